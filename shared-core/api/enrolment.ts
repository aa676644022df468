import { z } from "zod";

const host = z
  .string()
  .regex(/^[A-Za-z0-9.:-]{1,253}$/, "must be a host name or an address, such as 192.0.2.10");
const pin = z.int().min(0).max(48);

/** What a node must know beside its credentials. What is left out the node's own set-up asks for. */
export const placeOfNodeSchema = z
  .strictObject({
    /** Wi-Fi name: 1 to 32 bytes (IEEE 802.11). */
    ssid: z.string().min(1).refine(fits(32), "must have 32 bytes at most").optional(),
    password: z.string().refine(fits(63), "must have 63 bytes at most").optional(),
    host: host.optional(),
    port: z.int().min(1).max(65_535).optional(),
    tls: z.boolean().optional(),
    /** PEM of the authority that signed the broker's certificate; ESP32 only. */
    authority: z.string().startsWith("-----BEGIN CERTIFICATE-----").max(4000).optional(),
    timeServer: host.optional(),
    /** On a battery the node sleeps between measurements and watches content only. */
    battery: z.boolean().optional(),
    /** Scale under the cylinder: an HX711, or an amplifier on the converter's fourth input. */
    scale: z.enum(["bridge", "converter"]).optional(),
    /** What hangs on which pin, where it differs from the wiring diagram. */
    pins: z
      .strictObject({
        sda: pin.optional(),
        scl: pin.optional(),
        lamp: pin.optional(),
        buzzer: pin.optional(),
        cylinderProbe: pin.optional(),
        regulatorProbe: pin.optional(),
        arc: pin.optional(),
        button: pin.optional(),
        sensorPower: pin.optional(),
        scaleClock: pin.optional(),
        scaleData: pin.optional(),
      })
      .optional(),
  })
  .superRefine((place, context) => {
    const length = place.password?.length ?? 0;
    if (length > 0 && length < 8) {
      context.addIssue({
        code: "custom",
        path: ["password"],
        message: "must have 8 characters at least, or be empty for an open network (WPA2)",
      });
    }
    if (place.tls === true && place.authority === undefined) {
      context.addIssue({
        code: "custom",
        path: ["authority"],
        message: "is missing: TLS needs the certificate of the authority that the node trusts",
      });
    }
  });
export type PlaceOfNode = z.infer<typeof placeOfNodeSchema>;

/** Body of `POST nodes/{id}/enrol`. */
export const enrolNodeSchema = z
  .strictObject({
    /** Puts new credentials in the place of those that stand. */
    again: z.boolean().default(false),
    place: placeOfNodeSchema.default({}),
  })
  .meta({ id: "EnrolNode" });

/** Credentials as they are shown once. */
export const issuedCredentialsSchema = z
  .object({
    id: z.string().describe("`<site>.<node>`"),
    user: z.string().describe("MQTT user name"),
    secret: z.string().describe("MQTT password"),
    code: z.string().describe("User and secret in one, to type or scan in the node's own set-up"),
    provision: z
      .record(z.string(), z.unknown())
      .describe("Content of the file `provision` to put on the node"),
  })
  .meta({ id: "IssuedCredentials" });

/** Answer of `GET nodes/enrolled`. */
export const enrolledNodesSchema = z
  .object({
    nodes: z.array(
      z.object({
        id: z.string(),
        user: z.string(),
        issued: z.string(),
        revoked: z.string().nullable(),
        lastLogin: z.string().nullable(),
      }),
    ),
    ownerSet: z.boolean().describe("Whether enrolling takes the owner's key"),
    broker: z.object({
      required: z.boolean().describe("Whether nodes need credentials at this broker"),
      embedded: z.boolean(),
      port: z.int().nullable(),
    }),
  })
  .meta({ id: "EnrolledNodes" });

function fits(bytes: number): (text: string) => boolean {
  return (text) => new TextEncoder().encode(text).length <= bytes;
}
