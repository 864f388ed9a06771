import { type Audited, type AuditOptions, auditContent } from "../actions/audit.ts";
import { blocks, type Finding } from "../model/finding.ts";
import type { Io } from "./io.ts";
import { type Format, formatted, sorted } from "./report.ts";

export interface AuditCommand extends AuditOptions {
  readonly format: Format;
}

/** `afterair audit`: tells what an audit came to. */
export async function audit(options: AuditCommand, io: Io): Promise<readonly Finding[]> {
  const audited = await auditContent(options, io.now);
  tell(audited, options, io);
  return audited.findings;
}

function tell({ findings, published, unpublished, copies }: Audited, options: AuditCommand, io: Io): void {
  const { content, format, against } = options;
  if (format !== "text" || findings.length > 0) io.out(formatted(sorted(findings), format, content));
  if (format !== "text") return;
  const rest = unpublished === 0 ? "" : ` ${unpublished} not published yet.`;
  const beside = [...(against === null ? [] : [against]), ...copies];
  const scope = beside.length === 0 ? "" : `, and every record goes on from ${beside.join(" and ")}`;
  const result = findings.some(blocks)
    ? "Something changed in silence, or can't be proved not to: see above."
    : `Nothing of them changed in silence${scope}.`;
  io.out(`Published: ${published}.${rest} ${result}`);
}
