import {
  readEnrolmentCode,
  secretFrom,
  writeEnrolmentCode,
} from "@leeward/shared-core/messages/enrolment-code.ts";
import { afterEach, describe, expect, test } from "vitest";
import { blank, type Knowledge, placed, TestReach } from "./reach-host.ts";

let reach: TestReach;

async function started(knowledge: Knowledge, files?: Map<string, string>): Promise<TestReach> {
  reach = new TestReach(knowledge, files);
  await reach.start();
  return reach;
}

afterEach(() => reach.stop());

const secret = secretFrom(Array.from({ length: 22 }, (_, index) => (index * 11 + 5) % 32));
const code = writeEnrolmentCode({ site: "north", node: "n-07", secret });
const good = { network: "dock & yard", password: 'p"%$ wört', gateway: "gw.local:1884", code };

describe("a node that does not know its place", () => {
  test("opens an access point at once, without a password, and its lamp says so", async () => {
    await started(blank);
    reach.run(1);
    expect(reach.access).toEqual(["leeward-804f", ""]);
    reach.lamp = "";
    reach.run(8);
    expect(reach.lamp).toMatch(/^0?(0{4}1{4}|1{4}0{4}|1{1,3}0{4}1{1,3}|0{1,3}1{4}0{1,3}){2,}/);
    reach.run(7200);
    expect(reach.log).toEqual(["0 open"]);
  });

  test("is set up from a phone: saved, restarted, network and password exactly as typed", async () => {
    await started(blank);
    reach.run(5);
    const page = reach.get();
    expect(page).toContain("HTTP/1.1 200 OK");
    expect(page).toContain("does not know its network");
    for (const name of ["network", "password", "gateway", "code"]) {
      expect(page).toContain(`<input name=${name} `);
    }
    expect(reach.post(good)).toContain("joins dock &amp; yard");
    expect(reach.files.get("place")).toBe(
      `network=dock & yard\npassword=p"%$ wört\nhost=gw.local\nport=1884\nsite=north\nnode=n-07\nsecret=${secret}\n`,
    );
    reach.run(5);
    expect(reach.restarts).toBe(1);
  });

  test("comes in pieces of any size", async () => {
    for (const size of [1, 7, 100]) {
      await started(blank);
      expect(reach.post(good, size)).toContain("Saved");
    }
  });

  const wrong: [string, Partial<typeof good>, string][] = [
    ["no network", { network: "" }, "It is missing"],
    ["a network's name of 33 bytes", { network: "n".repeat(33) }, "longer than the 32 bytes"],
    ["a line break in the name", { network: "yard\nsecret=x" }, "no network's name has"],
    ["a password of 7 characters", { password: "1234567" }, "shorter than the 8 characters"],
    ["a password of 64", { password: "p".repeat(64) }, "longer than 63"],
    ["no gateway", { gateway: " " }, "It is missing"],
    ["a gateway with blanks", { gateway: "the office pc" }, "must be an address such as"],
    ["a port that cannot be", { gateway: "192.0.2.1:70000" }, "port from 1 to 65535"],
    ["no code", { code: "" }, "It is missing"],
    ["half a code", { code: "north/n-07" }, "must look like"],
    ["a code of another length", { code: `${code}7` }, "has 25 symbols instead of 24"],
    [
      "a code with a slip",
      { code: code.replace(/.$/, (last) => (last === "2" ? "3" : "2")) },
      "compare it symbol by symbol",
    ],
    ["a code with a bad name", { code: code.replace("n-07", "N_07") }, "as enrolled"],
  ];
  for (const [name, change, why] of wrong) {
    test(`${name} is answered on the page, and nothing is kept`, async () => {
      await started(blank);
      const page = reach.post({ ...good, ...change });
      expect(page).toContain("Nothing was saved yet.");
      expect(page).toContain(why);
      expect(page.match(/role=alert/g)).toHaveLength(1);
      expect(page).toContain("aria-invalid=true");
      // What was typed is still there, but for the password.
      if (change.network === undefined) expect(page).toContain('value="dock &amp; yard"');
      expect(page).not.toContain("wört");
      expect(reach.files.size).toBe(0);
      reach.run(10);
      expect(reach.restarts).toBe(0);
    });
  }

  test("shows nothing of what was typed as markup", async () => {
    await started(blank);
    const page = reach.post({ ...good, network: '"><script>alert(1)</script>', code: "<b>" });
    expect(page).not.toContain("<script>");
    expect(page).not.toContain("<b>");
  });

  test("addresses are taken as people paste them", async () => {
    const cases: [string, string][] = [
      ["192.0.2.9", "host=192.0.2.9\nport=1883\n"],
      ["  mqtt://192.0.2.9:1884/ ", "host=192.0.2.9\nport=1884\n"],
      ["http://gateway.local/", "host=gateway.local\nport=1883\n"],
    ];
    for (const [gateway, kept] of cases) {
      await started(blank);
      expect(reach.post({ ...good, gateway })).toContain("Saved");
      expect(reach.files.get("place")).toContain(kept);
    }
  });

  test("codes are read alike by node and gateway", async () => {
    await started(blank);
    const typed = [
      code,
      code.toLowerCase(),
      code.replaceAll("-", " ").replace("n 07", "n-07"),
      `  ${code}  `,
      ...Array.from({ length: 24 }, (_, index) => {
        const at = code.lastIndexOf("/") + 1 + index + Math.floor(index / 4);
        return code.slice(0, at) + (code[at] === "3" ? "4" : "3") + code.slice(at + 1);
      }),
    ];
    for (const one of typed) {
      const here = reach.type(`code ${one}`).startsWith("code taken");
      expect(here, one).toBe(readEnrolmentCode(one) !== null);
    }
  });

  test("a full flash is said, and the old place stays", async () => {
    await started(blank, new Map([["place", "network=old\n"]]));
    reach.flashFull = true;
    expect(reach.post(good)).toContain("flash does not take it");
    expect(reach.files.get("place")).toBe("network=old\n");
    reach.run(10);
    expect(reach.restarts).toBe(0);
  });

  test("what is no request of a browser is answered as such, and breaks nothing", async () => {
    await started(blank);
    expect(reach.http("\u0001\u0002 garbage\r\n\r\n")).toContain("400 Bad Request");
    expect(reach.http("PUT / HTTP/1.1\r\n\r\n")).toContain("405 Method Not Allowed");
    expect(reach.http(`GET / HTTP/1.1\r\nx: ${"y".repeat(4000)}\r\n\r\n`)).toContain("413");
    expect(reach.http("POST / HTTP/1.1\r\nContent-Length: 99999\r\n\r\n")).toContain("413");
    expect(reach.http("POST / HTTP/1.1\r\nContent-Length: 50\r\n\r\nnetwork=x")).toBeNull();
    expect(reach.http("POST / HTTP/1.1\r\n\r\n")).toContain("Nothing was saved yet.");
    expect(reach.http("POST / HTTP/1.1\r\nContent-Length: 12\r\n\r\nnetwork=%zz&")).toContain(
      "200 OK",
    );
    expect(reach.get("/hotspot-detect.html")).toContain("Location: http://192.168.4.1/");
    expect(reach.get()).toContain("200 OK");
  });

  test("hundreds of conversations leave no memory behind", async () => {
    await started(blank);
    expect(reach.growthKb(400)).toBeLessThan(0.2);
  });
});

describe("the serial console", () => {
  test("sets a node up in five lines", async () => {
    await started(blank);
    expect(reach.type("help")).toContain("network NAME");
    expect(reach.type("show")).toContain("network none, gateway none");
    expect(reach.type("save")).toContain("nothing was told");
    expect(reach.type("network dock & yard ")).toContain("taken");
    expect(reach.type("save")).toBe("the gateway is missing");
    expect(reach.type("password long enough")).toContain("taken");
    expect(reach.type("gateway 192.0.2.9")).toContain("taken");
    expect(reach.type("save")).toBe("the code is missing");
    expect(reach.type(`code ${code}`)).toContain("taken");
    const shown = reach.type("show");
    expect(shown).toContain("not saved yet: network dock & yard ");
    expect(shown).not.toContain("long enough");
    expect(shown).not.toContain(secret.slice(0, 8));
    expect(reach.type("save\r\n")).toContain("saved");
    expect(reach.files.get("place")).toContain("network=dock & yard \npassword=long enough\n");
    reach.run(5);
    expect(reach.restarts).toBe(1);
  });

  test("answers bad input, and what it does not know", async () => {
    await started(blank);
    expect(reach.type("password short")).toContain("shorter than the 8 characters");
    expect(reach.type("gateway")).toBe("gateway is missing");
    expect(reach.type("code x")).toContain("must look like");
    expect(reach.type("dance")).toContain("there is no dance");
    expect(reach.type("")).toContain("commands:");
    expect(reach.type("\u0007\u00ff")).toContain("commands:");
    expect(reach.files.size).toBe(0);
  });

  test("changes the network alone, and keeps who the node is", async () => {
    await started(placed);
    reach.type("network shed");
    reach.type("password long enough");
    expect(reach.type("save")).toContain("saved");
    expect(reach.files.get("place")).toBe(
      "network=shed\npassword=long enough\nhost=192.0.2.10\nport=1883\nsite=\nnode=\nsecret=\n",
    );
  });

  test("makes a node forget, so that it can go to another shop", async () => {
    await started(
      placed,
      new Map([
        ["place", "x"],
        ["provision", "{}"],
        ["boot", "7"],
      ]),
    );
    expect(reach.type("forget")).toContain("starts again");
    expect([...reach.files.keys()]).toEqual(["boot"]);
    reach.run(5);
    expect(reach.restarts).toBe(1);
  });
});

describe("a node in use", () => {
  test("that reaches its gateway opens nothing", async () => {
    await started(placed);
    reach.networkUp = true;
    reach.gatewayUp = true;
    reach.run(7200);
    expect(reach.log).toEqual([]);
    expect(reach.lamp).not.toContain("1");
  });

  test("whose network is gone opens after five minutes, in turns, and closes when it is back", async () => {
    await started(placed);
    reach.networkUp = true;
    reach.gatewayUp = true;
    reach.run(100);
    reach.networkUp = false;
    reach.gatewayUp = false;
    reach.run(290);
    expect(reach.access).toBeNull();
    reach.run(20);
    // WPA2 with the end of its code: the neighbours shall not set it up.
    expect(reach.access).toEqual(["leeward-804f", "K7QF9M2X"]);
    expect(reach.get()).toContain("cannot join yard");
    reach.run(6000);
    const opened = reach.log
      .filter((line) => line.endsWith("open"))
      .map((line) => Number.parseInt(line, 10));
    expect(opened.length).toBeGreaterThanOrEqual(3);
    expect(opened.slice(1).every((at, index) => at - (opened[index] ?? 0) < 3000)).toBe(true);
    if (reach.access === null) reach.run(2400 - 600);
    reach.networkUp = true;
    reach.gatewayUp = true;
    reach.run(300);
    expect(reach.access).toBeNull();
  });

  test("whose gateway does not answer for a quarter of an hour opens too, and says why", async () => {
    await started(placed);
    reach.networkUp = true;
    reach.run(880);
    expect(reach.access).toBeNull();
    reach.run(40);
    expect(reach.access).not.toBeNull();
    expect(reach.get()).toContain("the gateway does not answer at 192.0.2.10");
  });

  test("does not close on a person who is at it", async () => {
    await started(placed);
    reach.run(310);
    reach.networkUp = true;
    reach.gatewayUp = true;
    for (let minute = 0; minute < 20; minute++) {
      reach.get();
      reach.run(60);
      expect(reach.access).not.toBeNull();
    }
    reach.run(200);
    expect(reach.access).toBeNull();
  });

  test("opens at the press of its button for eight seconds, and by the console", async () => {
    await started(placed);
    reach.networkUp = true;
    reach.gatewayUp = true;
    reach.pressed = true;
    reach.run(5);
    expect(reach.access).toBeNull();
    reach.run(4);
    reach.pressed = false;
    expect(reach.access).not.toBeNull();
    reach.run(500);
    expect(reach.access).not.toBeNull();
    reach.run(200);
    expect(reach.access).toBeNull();
    reach.type("set-up");
    reach.run(1);
    expect(reach.access).not.toBeNull();
  });

  test("with a new place that does not work opens again after a minute, and resumes with the network", async () => {
    const files = new Map([["place-new", "1"]]);
    await started(placed, files);
    reach.run(62);
    expect(reach.access).not.toBeNull();
    expect(files.has("place-new")).toBe(true);
    reach.networkUp = true;
    reach.gatewayUp = true;
    reach.run(30);
    expect(reach.access).toBeNull();
    expect(files.has("place-new")).toBe(false);
  });

  test("needs no code for a new network, and takes a new one", async () => {
    await started(placed);
    const page = reach.get();
    expect(page).toContain("Leave it empty to keep the one the node has.");
    expect(page).toContain('value="192.0.2.10:1883"');
    expect(page).not.toContain("K7QF9M2X");
    expect(reach.post({ ...good, code: "" })).toContain("Saved");
    expect(reach.files.get("place")).toContain("site=\nnode=\nsecret=\n");
    expect(reach.post(good)).toContain("Saved");
    expect(reach.files.get("place")).toContain(`secret=${secret}\n`);
  });
});
