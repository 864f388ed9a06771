/** Where the record of an episode stands, by its folder. */
export const recordFile = (folder: string): string => `${folder}/record.jsonl`;
