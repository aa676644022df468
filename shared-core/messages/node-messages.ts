import { z } from "zod";
import { commandName, nodeState } from "./wire-names.ts";

/** Messages beside the sample packs: status, config, command, reply, stored, time. */

const boot = z.int().min(0).max(2_147_483_647);

/** Node → gateway, retained; the last will carries state and boot only. */
export const statusSchema = z
  .looseObject({
    state: z.enum([nodeState.online, nodeState.offline]),
    firmware: z.string().max(40).optional(),
    boot: boot.optional(),
    /** Revision of the config that is in force. */
    config: z.int().min(0).optional(),
    /** Seconds since boot. */
    uptime: z.number().min(0).optional(),
    reset: z.string().max(40).optional(),
    /** Packs that wait in the node. */
    queued: z.int().min(0).optional(),
    configError: z.string().max(400).optional(),
    /** `battery`: it sleeps between measurements and watches content only. */
    power: z.string().max(20).optional(),
    /** Counts of the scale under the cylinder, for its calibration. */
    scaleReads: z.number().optional(),
  })
  .meta({ id: "NodeStatus" });
export type NodeStatus = z.infer<typeof statusSchema>;

/** Gauge range and two-point calibration of a transducer: it showed `reads`, the gauge said `is`. */
const calibrationSchema = z.looseObject({
  fitted: z.boolean().optional(),
  rangePa: z.number().positive().optional(),
  lowReadsPa: z.number().optional(),
  lowIsPa: z.number().optional(),
  highReadsPa: z.number().optional(),
  highIsPa: z.number().optional(),
});

/** Gateway → node, retained. The node answers with the revision in its status. */
export const configSchema = z
  .looseObject({
    revision: z.int().min(1),
    pace: z
      .looseObject({
        /** Seconds between samples while gas flows, while idle, and while idle without a line sensor. */
        flowingS: z.number().positive().optional(),
        idleS: z.number().positive().optional(),
        idleWithoutLineS: z.number().positive().optional(),
        /** Seconds between packs. */
        packFlowingS: z.number().positive().optional(),
        packIdleS: z.number().positive().optional(),
      })
      .optional(),
    calibration: z
      .looseObject({
        cylinder: calibrationSchema.optional(),
        line: calibrationSchema.optional(),
        /** The scale showed `reads` (counts, as in the status) under `is` kg. */
        scale: z
          .looseObject({
            lowReads: z.number(),
            lowIsKg: z.number(),
            highReads: z.number(),
            highIsKg: z.number(),
          })
          .optional(),
      })
      .optional(),
    /** Gauge Pa. */
    limits: z
      .looseObject({
        residualPa: z.number().min(0).optional(),
        lineLeastPa: z.number().min(0).optional(),
        lineMostPa: z.number().positive().optional(),
      })
      .optional(),
    arc: z.union([z.boolean(), z.looseObject({ fitted: z.boolean().optional() })]).optional(),
    /** On a battery: seconds between measuring, and between sending. */
    battery: z
      .looseObject({
        measureS: z.number().positive().optional(),
        sendS: z.number().positive().optional(),
      })
      .optional(),
    outputs: z
      .looseObject({ lamp: z.boolean().optional(), buzzer: z.boolean().optional() })
      .optional(),
  })
  .meta({ id: "NodeConfig" });
export type NodeConfig = z.infer<typeof configSchema>;

/** Gateway → node, QoS 1. A command that arrives after `expires` is dropped, and the reply says so. */
export const commandSchema = z
  .looseObject({
    id: z.string().min(1).max(64),
    do: z.enum([
      commandName.identify,
      commandName.signal,
      commandName.restart,
      commandName.sendNow,
      commandName.update,
    ]),
    /** Unix seconds. */
    expires: z.number(),
    /** A signal: what lights and sounds. */
    lamp: z.boolean().optional(),
    buzzer: z.boolean().optional(),
    seconds: z.number().positive().optional(),
    url: z.url().optional(),
    bytes: z.int().positive().optional(),
    hmac: z
      .string()
      .regex(/^[0-9a-f]{64}$/)
      .optional(),
  })
  .superRefine((command, context) => {
    if (command.do === commandName.update && !(command.url && command.bytes && command.hmac)) {
      context.addIssue({ code: "custom", message: "an update needs url, bytes and hmac" });
    }
    if (command.do === commandName.signal && command.seconds === undefined) {
      context.addIssue({ code: "custom", path: ["seconds"], message: "a signal needs seconds" });
    }
  })
  .meta({ id: "NodeCommand" });
export type NodeCommand = z.infer<typeof commandSchema>;

/** Node → gateway. */
export const replySchema = z
  .looseObject({
    id: z.string().min(1).max(64),
    ok: z.boolean(),
    why: z.string().max(400).optional(),
  })
  .meta({ id: "NodeReply" });
export type NodeReply = z.infer<typeof replySchema>;

/** Gateway → node: every pack of this boot up to `through` is in the store. */
export const storedSchema = z.strictObject({ boot, through: z.int().min(0) });
export type StoredNotice = z.infer<typeof storedSchema>;

/** Gateway → nodes of a site. */
export const timeSchema = z.strictObject({ unix: z.number().positive() });
export type TimeNotice = z.infer<typeof timeSchema>;
