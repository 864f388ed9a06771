/** Is told how a build goes on. */
export interface Progress {
  /** Another build has the folder: who. */
  waiting(owner: string, lock: string): void;
  /** How many episodes are to be looked into. */
  begin(episodes: number): void;
  /** So many more have been. */
  done(episodes: number): void;
  /** A place of the site was made anew, with so many pages, for this reason. */
  made(place: string, pages: number, why: string): void;
  end(): void;
}

export const SILENT: Progress = { waiting() {}, begin() {}, done() {}, made() {}, end() {} };
