/** The job file from the form: text only, nothing is calculated here. */
import type { ColumnEntry } from "../package/result.js";

export interface JobForm {
  title: string;
  vehicle: Record<string, string>;
  /** Id of the loss model, or nothing. */
  loss: string;
  rig: Record<string, string>;
  standard: string;
  /** Column name to role; the unit is kept from the log. */
  columns: { entry: ColumnEntry; role: string; reference: string }[];
  states: { name: string; air: Record<string, string>; logs: { file: string; start: string }[] }[];
}

/** A TOML string. */
export function quoted(text: string): string {
  const plain = text.replace(/[\\"]/g, "\\$&");
  return `"${plain.replace(/[\u0000-\u001f\u007f]/g, (c) => "\\u" + c.charCodeAt(0).toString(16).padStart(4, "0"))}"`;
}

/** True when somebody must say whether a column counts from zero or from the ambient pressure. */
export function needsReference(role: string, unit: string | null | undefined): boolean {
  return /pressure/.test(role) && !/\((a|g)\)$/.test(unit ?? "");
}

/** The text of `job.toml`. */
export function jobText(f: JobForm): string {
  const lines = ['schema = "fairpull-job-1"', `title = ${quoted(f.title || "Job")}`, "", "[vehicle]"];
  const put = (from: Record<string, string>, numbers: string[]) => {
    for (const [key, value] of Object.entries(from)) {
      const text = value.trim();
      if (text === "") continue;
      lines.push(`${key} = ${numbers.includes(key) || text === "true" || text === "false" ? plain(text) : quoted(text)}`);
    }
  };
  put(f.vehicle, ["ratio", "driven_wheels", "cylinders"]);
  lines.push("", "[rig]");
  put(f.rig, []);
  if (f.loss) lines.push("", "[loss]", `model = ${quoted(f.loss)}`);
  lines.push("", "[basis]", `standard = ${quoted(f.standard)}`);
  for (const { entry, role, reference } of f.columns) {
    if (!role) continue;
    lines.push("", `[columns.${role}]`, `name = ${quoted(bare(entry.name))}`);
    if (entry.unit) lines.push(`unit = ${quoted(entry.unit)}`);
    if (needsReference(role, entry.unit)) {
      lines.push(reference ? `reference = ${quoted(reference)}` : '# reference = "absolute" or "gauge": the log does not say');
    }
  }
  for (const s of f.states) {
    const air = Object.entries(s.air).filter(([, v]) => v.trim());
    lines.push("", "[[state]]", `name = ${quoted(s.name)}`);
    if (air.length > 0) lines.push(`air = { ${air.map(([k, v]) => `${k} = ${quoted(v.trim())}`).join(", ")} }`);
    for (const { file, start } of s.logs) {
      lines.push("", "[[state.log]]", `file = ${quoted(file)}`);
      if (start.trim()) lines.push(`start = ${quoted(start.trim())}`);
    }
  }
  return lines.join("\n") + "\n";
}

/** The name without its unit in brackets: logs of one job may write it in different ways. */
function bare(name: string): string {
  return name.replace(/\s*(\[[^\]]*\]|\([^)]*\))\s*$/, "") || name;
}

/** A number as TOML wants it; what is none stays text, so that the fault names it. */
function plain(text: string): string {
  if (text === "true" || text === "false") return text;
  const x = text.replace(",", ".");
  return /^-?\d+(\.\d+)?$/.test(x) ? x : quoted(text);
}
