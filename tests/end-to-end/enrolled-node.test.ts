import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { StationList } from "@leeward/shared-core/api/stations.ts";
import { describe, expect, it } from "vitest";
import { eventually, examplePack, samplesTopic, temporaryFolder } from "../gateway/support.ts";
import { mosquittoPub } from "./mosquitto.ts";
import { ready, runGateway, runProgram } from "./program.ts";

async function unclaimed(api: string): Promise<StationList["unclaimed"]> {
  return ((await (await fetch(`${api}/stations`)).json()) as StationList).unclaimed;
}

describe("a gateway opened to the network", () => {
  it("needs an owner, then lets enrolled nodes in by mosquitto_pub -u -P, and no other", {
    timeout: 90_000,
  }, async () => {
    const data = temporaryFolder();
    const file = join(temporaryFolder(), "provision");
    const run = (args: string[]) => runProgram([...args, "--data", data]);
    const alone = run(["run", "--host", "0.0.0.0", "--no-virtual"]);
    expect(await alone.ended).toBe(1);
    expect(alone.error).toContain("npx leeward owner");
    const owner = run(["owner"]);
    expect(await owner.ended).toBe(0);
    const [key = ""] = /([0-9A-Z]{4}-){5}[0-9A-Z]{4}/.exec(owner.out) ?? [];

    const gateway = await runGateway(data, ["--no-virtual", "--host", "0.0.0.0"]);
    await ready(gateway);
    expect(gateway.out).toContain("Warning: --host 0.0.0.0 lets everybody");
    const nowS = Math.floor(Date.now() / 1000);
    const pack = (seq: number) => examplePack({ endS: nowS + seq, seq });
    await expect(mosquittoPub(gateway.broker, samplesTopic, pack(1))).rejects.toThrow();
    expect(await unclaimed(gateway.api)).toEqual([]);

    const enrol = run(["node", "enrol", "north/n-07", "--out", file]);
    expect(await enrol.ended).toBe(0);
    const { user, secret } = JSON.parse(readFileSync(file, "utf8")) as Record<string, string>;
    const login = ["-u", user ?? "", "-P", secret ?? ""];
    await mosquittoPub(gateway.broker, samplesTopic, pack(2), login);
    await eventually(async () => (await unclaimed(gateway.api))[0]?.node === "n-07", "it shows");
    const foreign = "leeward/v1/north/n-08/samples";
    await expect(
      mosquittoPub(
        gateway.broker,
        foreign,
        examplePack({ endS: nowS, seq: 1, node: "n-08" }),
        login,
      ),
    ).rejects.toThrow();
    expect((await unclaimed(gateway.api)).map((node) => node.node)).toEqual(["n-07"]);

    const enrolUrl = `${gateway.api}/nodes/north.n-08/enrol`;
    const post = (headers: Record<string, string>) =>
      fetch(enrolUrl, {
        method: "POST",
        headers: { "content-type": "application/json", ...headers },
        body: "{}",
      });
    expect((await post({})).status).toBe(401);
    const second = await post({ authorization: `Bearer ${key}` });
    expect(second.status).toBe(201);
    const made = (await second.json()) as { user: string; secret: string };
    const pack8 = examplePack({ endS: nowS, seq: 1, node: "n-08" });
    await mosquittoPub(gateway.broker, foreign, pack8, ["-u", made.user, "-P", made.secret]);

    const revoke = run(["node", "revoke", "north/n-07"]);
    expect(await revoke.ended).toBe(0);
    await expect(mosquittoPub(gateway.broker, samplesTopic, pack(3), login)).rejects.toThrow();
    gateway.child.kill("SIGTERM");
    expect(await gateway.ended).toBe(0);
    expect(gateway.error).toBe("");
  });

  it("lets its own virtual stations in", { timeout: 90_000 }, async () => {
    const gateway = await runGateway(temporaryFolder(), [
      "--nodes",
      "enrolled",
      "--demo-hours",
      "0",
    ]);
    await ready(gateway);
    await eventually(
      async () => {
        const list = (await (await fetch(`${gateway.api}/stations`)).json()) as StationList;
        const heard = list.stations.filter((one) => one.estimate !== null);
        return heard.length === 6;
      },
      "all six are heard",
      40_000,
    );
    const nowS = Math.floor(Date.now() / 1000);
    await expect(
      mosquittoPub(gateway.broker, samplesTopic, examplePack({ endS: nowS, seq: 1 })),
    ).rejects.toThrow();
  });
});
