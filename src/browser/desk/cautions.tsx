import type { DeskEdit, DeskLook, DeskWords } from "../../model/desk.ts";

interface CautionsProps {
  readonly look: Pick<DeskLook, "cautions" | "code">;
  readonly words: DeskWords;
  readonly onEdit: (edit: DeskEdit) => void;
}

/** What the audience and the next editor are told before a segment: a label by hand, and what it is usually for. */
export function Cautions({ look: { cautions, code }, words, onEdit }: CautionsProps) {
  const { segments, order, published } = words;
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
            const own = order.lines[k]?.cautions ?? [];
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
                      checked={own.includes(caution)}
                      onChange={(event) =>
                        onEdit({ op: "caution", segment: slug, caution, isOn: event.currentTarget.checked })
                      }
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
