import { useState } from "preact/hooks";
import type { DeskEdit, DeskLook, DeskWords } from "../../model/desk.ts";
import type { Caution } from "../../model/episode.ts";

interface CautionsProps {
  readonly look: Pick<DeskLook, "cautions" | "code">;
  readonly words: DeskWords;
  /** Ends when the edit is done or refused and the page shows it. */
  readonly onEdit: (edit: DeskEdit) => Promise<void>;
}

/** What the audience and the next editor are told before a segment: a label by hand, and what it is usually for. */
export function Cautions({ look: { cautions, code }, words, onEdit }: CautionsProps) {
  const { segments, order, published } = words;
  /** Boxes as they were ticked, while their change is on its way: what is loaded meanwhile may be older. */
  const [wanted, setWanted] = useState<ReadonlyMap<string, { readonly isOn: boolean }>>(new Map());
  const tick = async (segment: string, caution: Caution, isOn: boolean) => {
    const key = `${segment} ${caution}`;
    const own = { isOn };
    setWanted((before) => new Map(before).set(key, own));
    await onEdit({ op: "caution", segment, caution, isOn });
    setWanted((before) => {
      // Ticked again meanwhile: that change is still on its way.
      if (before.get(key) !== own) return before;
      const left = new Map(before);
      left.delete(key);
      return left;
    });
  };
  return (
    <section aria-labelledby="labels">
      <h2 id="labels">Labels on segments</h2>
      <p class="desk-lead">
        A label tells the audience before a segment begins.{" "}
        {code === null ? (
          "Follow your station's own code, and ask for qualified advice where in doubt."
        ) : (
          <>
            Follow <a href={code}>your station's own code</a>, and ask for qualified advice where in doubt.
          </>
        )}
      </p>
      <dl class="desk-cautions">
        {cautions.map(({ caution, label, usual, shown }) => (
          <div key={caution}>
            <dt>{label}</dt>
            <dd>{usual}</dd>
            <dd>The audience reads: “{shown}”</dd>
          </div>
        ))}
      </dl>
      <table class="desk-order">
        <caption class="vh">Labels of each segment</caption>
        <thead>
          <tr>
            <th scope="col">Segment</th>
            {cautions.map(({ caution, label }) => (
              <th key={caution} scope="col">
                {label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {segments.map(({ slug, title, kind }, k) => {
            const labels = order.lines[k]?.cautions ?? [];
            if (kind === "break") return null;
            return (
              <tr key={slug}>
                <th scope="row">{title}</th>
                {cautions.map(({ caution, label }) => (
                  <td key={caution}>
                    <input
                      type="checkbox"
                      aria-label={`${title}: ${label}`}
                      disabled={published}
                      checked={wanted.get(`${slug} ${caution}`)?.isOn ?? labels.includes(caution)}
                      onChange={(event) => void tick(slug, caution, event.currentTarget.checked)}
                    />
                  </td>
                ))}
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}
