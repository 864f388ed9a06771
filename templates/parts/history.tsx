import type { EpisodePage, HistoryItem } from "../../src/pages/types.ts";

interface HistoryProps {
  readonly items: readonly HistoryItem[];
  readonly record: EpisodePage["record"];
}

/** What happened to an episode since it was published, each with its date and the digest of its entry. */
export const History = ({ items, record }: HistoryProps) =>
  record === null ? null : (
    <div class="part">
      <h3>History</h3>
      <ol class="history">
        {items.map((item) => (
          <li key={`${item.time} ${item.href}`}>
            <time datetime={item.time}>{item.timeLong}</time> <What item={item} />{" "}
            {item.digest === null ? (
              <span class="history-digest">not yet in the record</span>
            ) : (
              <code class="history-digest">
                <span class="vh">entry </span>
                {item.digest}
              </code>
            )}
          </li>
        ))}
      </ol>
      <p class="history-more">
        <a href={record.file}>The record of this episode</a>, and <a href={record.page}>how to check a copy</a>
      </p>
    </div>
  );

const What = ({ item: { what, href, reasonHtml, files } }: { readonly item: HistoryItem }) => (
  <div class="history-what">
    {href === null ? what : <a href={href}>{what}</a>}
    {reasonHtml !== null && <div dangerouslySetInnerHTML={{ __html: reasonHtml }} />}
    {files.length > 0 && (
      <ul class="history-files">
        {files.map((file) => (
          <li key={file.href}>
            <a href={file.href}>{file.title}</a>
          </li>
        ))}
      </ul>
    )}
  </div>
);
