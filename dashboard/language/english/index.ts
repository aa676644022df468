import { actions } from "./actions.ts";
import { alarms } from "./alarms.ts";
import { chart } from "./chart.ts";
import { claim } from "./claim.ts";
import { device } from "./device.ts";
import { floor } from "./floor.ts";
import { sentence } from "./sentence.ts";
import { settings } from "./settings.ts";
import { shell } from "./shell.ts";
import { station } from "./station.ts";
import { told } from "./told.ts";

/** Every English word of the first view. The other languages have its shape. */
export const english = {
  ...shell,
  ...settings,
  ...sentence,
  ...alarms,
  ...device,
  ...floor,
  ...claim,
  ...station,
  ...told,
  ...actions,
  ...chart,
};

export type Words = typeof english;
