import type { FlowDeviceDocument } from "@leeward/shared-core/documents/hardware.ts";
import { words } from "../language/words.ts";

/** A tube's float has a name of its own in some languages where it is no ball. */
const isShaped = (device: FlowDeviceDocument): boolean =>
  device.kind === "variable-area" && device.float === "shaped";

/** What of the device shows the flow, in a word: `float`, `gauge`, `meter`. */
export function ringName(device: FlowDeviceDocument): string {
  return isShaped(device) ? words.device.ringShaped : words.device.ring[device.kind];
}

/** The button with which one says what it shows, and the question behind it. */
export function readingWords(device: FlowDeviceDocument): { tell: string; ask: string } {
  const { reading, readingShaped, readingTitle, readingTitleShaped } = words.actions;
  return isShaped(device)
    ? { tell: readingShaped, ask: readingTitleShaped }
    : { tell: reading[device.kind], ask: readingTitle[device.kind] };
}
