import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { settingsDocument } from "../../../gateway/settings/document.ts";
import { isLoopback, loadSettings } from "../../../gateway/settings/load.ts";
import { settingInfos } from "../../../gateway/settings/schema.ts";

describe("settings", () => {
  it("have defaults, taken by variables, taken by flags", () => {
    const plain = loadSettings({}, {});
    expect(plain.ok && plain.settings).toMatchObject({
      data: "./data",
      host: "127.0.0.1",
      port: 8080,
      mqttPort: 1883,
      virtual: "auto",
      demoSpeed: 1,
    });
    const both = loadSettings({ port: "9000" }, { LEEWARD_PORT: "9001", LEEWARD_VIRTUAL: "off" });
    expect(both.ok && [both.settings.port, both.settings.virtual]).toEqual([9000, "off"]);
    expect(loadSettings({}, { LEEWARD_PORT: "", HOME: "/x" }).ok).toBe(true);
  });

  it("tell all faults at once, by the names under which they were given", () => {
    const loaded = loadSettings(
      { port: "many", demoSpeed: "0" },
      { LEEWARD_TIME_ZONE: "Moon/Base", LEEWARD_BROKER_URL: "broker", LEEWARD_PORTT: "1" },
    );
    const message = loaded.ok ? "" : loaded.message;
    expect(message).toContain('--port is "many": must be a port number');
    expect(message).toContain('--demo-speed is "0"');
    expect(message).toContain('LEEWARD_TIME_ZONE is "Moon/Base": must be an IANA time zone');
    expect(message).toContain('LEEWARD_BROKER_URL is "broker": must be a URL');
    expect(message).toContain("LEEWARD_PORTT is no setting");
  });

  it("each have a flag, a variable and a text", () => {
    for (const info of settingInfos()) {
      expect(info.flag).toMatch(/^--[a-z-]+$/);
      expect(info.variable).toMatch(/^LEEWARD_[A-Z_]+$/);
      expect(info.description.length).toBeGreaterThan(20);
    }
  });

  it("are documented as they are", () => {
    const page = new URL("../../../docs/settings.md", import.meta.url);
    expect(readFileSync(page, "utf8")).toBe(settingsDocument());
  });

  it.each([
    ["127.0.0.1", true],
    ["127.8.9.1", true],
    ["::1", true],
    ["localhost", true],
    ["0.0.0.0", false],
    ["192.168.1.4", false],
    ["127.evil.example", false],
  ])("know that %s is loopback: %s", (host, loopback) => {
    expect(isLoopback(host)).toBe(loopback);
  });
});
