import {
  commandSchema,
  configSchema,
  replySchema,
  statusSchema,
  storedSchema,
  timeSchema,
} from "@leeward/shared-core/messages/node-messages.ts";
import { nodeTopic, parseNodeTopic, timeTopic } from "@leeward/shared-core/messages/topics.ts";
import { describe, expect, it } from "vitest";

describe("messages beside the samples", () => {
  it("reads the contract's examples", () => {
    const status = {
      state: "online",
      firmware: "1.2.3",
      boot: 17,
      config: 3,
      uptime: 123,
      reset: "power-on",
      queued: 0,
    };
    expect(statusSchema.parse(status)).toEqual(status);
    expect(statusSchema.parse({ state: "offline", boot: 17 })).toEqual({
      state: "offline",
      boot: 17,
    });
    expect(storedSchema.parse({ boot: 17, through: 8123 })).toEqual({ boot: 17, through: 8123 });
    expect(timeSchema.parse({ unix: 1764057600 })).toEqual({ unix: 1764057600 });
    expect(replySchema.parse({ id: "a", ok: false, why: "late" }).why).toBe("late");
    expect(configSchema.parse({ revision: 4, limits: { residualPa: 1e6 } }).revision).toBe(4);
    expect(commandSchema.parse({ id: "a", do: "identify", expires: 1764057600 }).do).toBe(
      "identify",
    );
  });

  it.each([
    [statusSchema, { state: "asleep" }],
    [statusSchema, { state: "online", boot: -1 }],
    [statusSchema, { state: "online", uptime: "long" }],
    [replySchema, { ok: true }],
    [configSchema, { revision: 0 }],
    [configSchema, { revision: 1, limits: { residualPa: -5 } }],
    [commandSchema, { id: "a", do: "dance", expires: 1 }],
    [commandSchema, { id: "a", do: "update", expires: 1, url: "http://x/y" }],
    [commandSchema, { id: "a", do: "signal", expires: 1 }],
    [commandSchema, { id: "a", do: "signal", expires: 1, seconds: 5, lamp: "blink" }],
    [storedSchema, { boot: 1 }],
    [timeSchema, { unix: "now" }],
  ])("refuses what is not of the contract (%#)", (schema, input) => {
    expect(schema.safeParse(input).success).toBe(false);
  });

  it("knows the topics", () => {
    expect(nodeTopic("north", "n-07", "stored")).toBe("leeward/v1/north/n-07/stored");
    expect(timeTopic("north")).toBe("leeward/v1/north/time");
    expect(parseNodeTopic("leeward/v1/north/n-07/samples")).toEqual({
      ok: true,
      value: { site: "north", node: "n-07", kind: "samples" },
    });
  });

  it.each([
    "leeward/v1/north/n-07/sample",
    "leeward/v1/north/samples",
    "leeward/v2/north/n-07/samples",
    "leeward/v1/North/n-07/samples",
    "leeward/v1/north/n--07/samples",
    "leeward/v1/north/n-07/samples/more",
    "leeward/v1/north/n-07/stored",
    `leeward/v1/north/${"n".repeat(33)}/samples`,
    "",
  ])("refuses the topic %s", (topic) => {
    const result = parseNodeTopic(topic);
    expect(!result.ok && result.fault.reason).toBe("unknown-topic");
  });
});
