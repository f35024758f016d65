// The same bits natively and in the browser module: random inputs over every standard, loss model and knock model.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { createInterface } from "node:readline";
import { before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { load } from "fairpull/workshop";

const root = fileURLToPath(new URL("../..", import.meta.url));
const tally = { factor: 0, crank: 0, ask: 0, refused: 0, plugIns: new Set(), different: [] };
const lines = [];

before(async () => {
  const words = ["run", "--quiet", "--locked", "--package", "fairpull-wasm", "--example", "parity"];
  const native = spawn(process.env.CARGO ?? "cargo", words, { cwd: root, stdio: ["ignore", "pipe", "inherit"] });
  const ended = new Promise((resolve) => native.on("close", resolve));
  for await (const line of createInterface({ input: native.stdout })) lines.push(JSON.parse(line));
  assert.equal(await ended, 0, `cargo ${words.join(" ")}`);
});

const column = (hex) => new Float64Array(Uint8Array.from(Buffer.from(hex, "hex")).buffer);
const bits = (x) => new BigUint64Array(Float64Array.of(x).buffer)[0];
const numbers = (text) => (text.match(/[:,[]-?\d[\d.eE+-]*/g) ?? []).length;

test("at least 100,000 random cases, and not one bit of difference", async (t) => {
  const w = await load();
  for (const { kind, id, with: told, in: columns, out, name, question, ok, answer } of lines) {
    if (kind === "ask") {
      let said;
      let fine = true;
      try {
        said = w.ask(name, question);
      } catch (e) {
        fine = false;
        const { field, value, problem, mend, file, line, column: at } = e;
        said = JSON.stringify({ field, value, problem, mend, file, line, column: at });
      }
      tally.ask += numbers(answer);
      if (fine !== ok || said !== answer) tally.different.push([name, question, answer, said]);
      if (name === "knock") tally.plugIns.add(/"model":"([^"]+)"/.exec(answer)?.[1] ?? "refused");
      continue;
    }
    const [a, b, c] = columns.map(column);
    const native = column(out);
    const here =
      kind === "factor"
        ? w.factorMany(id, JSON.parse(told), { total_kpa: a, vapour_kpa: b, temperature_c: c })
        : w.crankMany(id, JSON.parse(told), { wheel_w: a, road_speed_m_s: b, engine_speed_rpm: c });
    tally.plugIns.add(id);
    native.forEach((x, k) => {
      if (Number.isNaN(x)) tally.refused++;
      else tally[kind]++;
      if (bits(x) !== bits(here[k]) && !(Number.isNaN(x) && Number.isNaN(here[k]))) {
        tally.different.push([kind, id, told, a[k], b[k], c[k], x, here[k]]);
      }
    });
  }
  t.diagnostic(`factors ${tally.factor}, losses ${tally.crank}, numbers in whole answers ${tally.ask}, refused alike ${tally.refused}`);
  t.diagnostic(`plug-ins: ${[...tally.plugIns].join(", ")}`);
  assert.deepEqual(tally.different.slice(0, 3), []);
  assert.ok(tally.factor + tally.crank >= 100_000, "too few cases");
});

test("no plug-in is left out", async () => {
  const w = await load();
  const ids = w.catalogue().filter((e) => !e.status.startsWith("alias of")).map((e) => e.id);
  const missing = ids.filter((id) => !tally.plugIns.has(id));
  assert.deepEqual(missing, []);
});
