import { createHmac } from "node:crypto";
import { existsSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import { describe, expect, it } from "vitest";
import { main } from "../../../gateway/cli/main.ts";
import { hashSecret } from "../../../gateway/nodes/secrets.ts";
import { openStore, startTestGateway, temporaryFolder } from "../support.ts";

async function run(args: string[], input = "") {
  let out = "";
  let error = "";
  const code = await main(args, {
    stdin: Readable.from([input]),
    out: (text) => {
      out += text;
    },
    error: (text) => {
      error += text;
    },
    environment: {},
  });
  return { code, out, error };
}

describe("leeward node", () => {
  it("enrols while the gateway runs: credentials, and a file for the owner's eyes", async () => {
    const folder = temporaryFolder();
    const { store } = await startTestGateway({ folder });
    const file = join(temporaryFolder(), "provision");
    const done = await run(
      [
        ...["node", "enrol", "north/n-07", "--data", folder, "--out", file],
        ...["--ssid", "shop", "--network-password", "-", "--gateway", "gw.example:1884"],
      ],
      "a b c d e f\nmore\n",
    );
    expect(done.error).toBe("");
    expect(done.code).toBe(0);
    const [, secret = ""] = /Password {2}(\S+)/.exec(done.out) ?? [];
    expect(JSON.parse(readFileSync(file, "utf8"))).toEqual({
      site: "north",
      node: "n-07",
      user: "north/n-07",
      secret,
      ssid: "shop",
      password: "a b c d e f",
      host: "gw.example",
      port: 1884,
    });
    expect(statSync(file).mode & 0o077).toBe(0);
    expect((await store.enrolments.get("north", "n-07"))?.secretHash).toBe(hashSecret(secret));

    const twice = await run(["node", "enrol", "north/n-07", "--data", folder, "--out", file]);
    expect(twice.code).toBe(1);
    expect(twice.error).toContain("Say --again");
    const again = await run([
      "node",
      "enrol",
      "north.n-07",
      "--again",
      "--data",
      folder,
      "--out",
      file,
    ]);
    expect(again.code).toBe(0);
    expect(again.out).toContain("names no network (--ssid) and no gateway (--gateway)");

    const listed = await run(["node", "list", "--data", folder]);
    expect(listed.out).toMatch(/^north\/n-07 {2}issued \S+, never logged in\n$/);
    expect((await run(["node", "revoke", "north/n-07", "--data", folder])).code).toBe(0);
    expect((await run(["node", "revoke", "north/n-07", "--data", folder])).code).toBe(1);
    const json = await run(["node", "list", "--json", "--data", folder]);
    expect(JSON.parse(json.out)).toMatchObject([{ user: "north/n-07", lastLogin: null }]);
    expect(json.out).toMatch(/"revoked": "\d{4}-/);
  });

  it("takes the credentials back where the file cannot be written", async () => {
    const folder = temporaryFolder();
    const done = await run([
      "node",
      "enrol",
      "north/n-07",
      "--data",
      folder,
      "--out",
      join(folder, "no", "p"),
    ]);
    expect(done.code).toBe(1);
    expect(done.error).toContain("taken back");
    const store = await openStore(folder);
    expect((await store.enrolments.get("north", "n-07"))?.revokedS).not.toBeNull();
  });

  it("signs an update with the node's key", async () => {
    const folder = temporaryFolder();
    const bundle = join(folder, "new.lua");
    writeFileSync(bundle, "return {}\n".repeat(300));
    const args = ["node", "update", "north/n-07", "--data", folder, "--bundle", bundle];
    expect((await run([...args, "--url", "http://192.0.2.1/new.lua"])).error).toContain(
      "not enrolled",
    );
    await run(["node", "enrol", "north/n-07", "--data", folder, "--out", join(folder, "p")]);
    const { secret } = JSON.parse(readFileSync(join(folder, "p"), "utf8")) as { secret: string };
    const done = await run([...args, "--url", "http://192.0.2.1:8081/new.lua"]);
    expect(done.error).toContain("leeward/v1/north/n-07/command");
    const message = JSON.parse(done.out) as Record<string, unknown>;
    const key = createHmac("sha256", secret).update("leeward update").digest("hex");
    const hmac = createHmac("sha256", key).update(readFileSync(bundle)).digest("hex");
    expect(message).toMatchObject({ do: "update", bytes: 3000, hmac });
    expect((await run([...args, "--url", "ftp://x/y"])).code).toBe(2);
  });

  it.each([
    [["node"], "takes enrol, list, revoke or update"],
    [["node", "burn"], 'not "burn"'],
    [["node", "enrol"], "takes one <site>/<node>"],
    [["node", "enrol", "n-07"], "is no <site>/<node>"],
    [["node", "enrol", "north/N7"], "is no <site>/<node>"],
    [
      ["node", "enrol", "north/n-07", "--network-password", "short"],
      "--network-password must have 8",
    ],
    [["node", "enrol", "north/n-07", "--gateway", "a b"], "--gateway must be a host name"],
    [["node", "enrol", "north/n-07", "--wifi", "x"], "--wifi"],
    [["node", "list", "north/n-07"], "takes no name"],
  ])("%j is not understood, and nothing is made", async (args, message) => {
    const folder = temporaryFolder();
    const done = await run([...args, ...(args.length > 2 ? ["--data", folder] : [])]);
    expect(done.code).toBe(2);
    expect(done.error).toContain(message);
    expect(existsSync("provision-north-n-07")).toBe(false);
  });
});

describe("leeward owner", () => {
  it("makes a key once, and another only where that is said", async () => {
    const folder = temporaryFolder();
    const first = await run(["owner", "--data", folder]);
    expect(first.out).toMatch(/([0-9A-Z]{4}-){5}[0-9A-Z]{4}/);
    expect((await run(["owner", "--data", folder])).error).toContain("There is an owner already");
    const again = await run(["owner", "--again", "--data", folder]);
    expect(again.code).toBe(0);
    expect(again.out).not.toBe(first.out);
  });
});
