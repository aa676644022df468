// Waits until the started gateway lists six virtual stations, with a flow wherever gas is on.
import { readFileSync } from "node:fs";

const log = process.argv[2];
const deadline = Date.now() + 120_000;
let listed = "nothing yet";
let firstAnswer = 0;

while (Date.now() < deadline) {
  await new Promise((resolve) => setTimeout(resolve, 500));
  const address = /http:\/\/[^\s/]+:\d+/.exec(readFileSync(log, "utf8"))?.[0];
  if (!address) continue;
  try {
    const { stations } = await (await fetch(`${address}/api/v1/stations`)).json();
    firstAnswer ||= Date.now();
    const flowing = stations.filter((s) => s.estimate?.mode === "flowing");
    listed = `${stations.length} stations, ${flowing.length} flowing`;
    const known =
      flowing.length > 0 && flowing.every((s) => typeof s.estimate.flow.lpm === "number");
    if (stations.length === 6 && stations.every((s) => s.virtual && s.estimate) && known) {
      console.log(
        `npm start: ${listed}, ${Math.round((Date.now() - firstAnswer) / 1000)} s after the first answer`,
      );
      process.exit(0);
    }
  } catch {
    // Not listening yet.
  }
}
console.log(`npm start: not six stations with their flow within 120 s (${listed}); its output:`);
console.log(readFileSync(log, "utf8").slice(-4000));
process.exit(1);
