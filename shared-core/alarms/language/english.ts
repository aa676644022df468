import type { Formats } from "./say.ts";

type None = Record<string, never>;
/** The device as a welder calls it. */
export type DeviceWord = "float" | "gauge" | "meter";

const bare = (text: string) => (_of: None, _f: Formats) => text;
const within = (inS: number, f: Formats) => (inS <= 0 ? "by now" : `in about ${f.span(inS)}`);

/** A room's limit and the time to it; `at` names the station of another place than the alarm's own. */
interface RoomValues {
  inS: number;
  at?: string;
}
const room = (at: string | undefined) => (at === undefined ? "in the room" : `at ${at}`);

const channels: Readonly<Record<string, string>> = {
  "cylinder-pressure": "cylinder pressure sensor",
  "line-pressure": "line pressure sensor",
  "cylinder-temperature": "cylinder temperature sensor",
  "regulator-temperature": "regulator temperature sensor",
  "ambient-temperature": "room temperature sensor",
  "cylinder-mass": "cylinder scale",
  arc: "arc signal",
};

const faults: Readonly<Record<string, string>> = {
  "open-circuit": "broken wire",
  "short-circuit": "short circuit",
  "out-of-range": "out of its range",
  stuck: "stands still",
  noisy: "unsteady",
  "node-silent": "no word from its node",
  "fallen-off": "has fallen off the cylinder",
};

const unsuited = {
  "tig-inert": "TIG wants an inert gas: CO2 or oxygen burns the tungsten and the weld",
  "aluminium-inert": "aluminium wants an inert gas: CO2 or oxygen spoils the weld",
  "aluminium-hydrogen": "hydrogen makes aluminium porous",
  "cored-wire": "gas-shielded cored wire wants CO2 or a mix with CO2",
};
/** Why a gas does not suit a process. */
export type Unsuited = keyof typeof unsuited;

/**
 * Every sentence of the alarms in English; the other languages have the same keys. Values are SI
 * (`pa` gauge Pa, `lpm` metric20 L/min, `s` seconds, `share` of 1); a device's reading stands in
 * the device's own unit.
 */
export const englishSentences = {
  // Titles.
  "welding-without-gas": bare("STOP: welding without gas"),
  "hose-pressure-odd": bare("Hose pressure not as usual"),
  "hose-blocked": ({ share }: { share: number | null }, f: Formats) =>
    `Something blocks the gas: hose pressure ${share === null ? "" : `${f.percent(share)} `}above usual`,
  "hose-open": ({ share }: { share: number | null }, f: Formats) =>
    `Gas escapes before the nozzle: hose pressure ${share === null ? "" : `${f.percent(share)} `}below usual`,
  "calibration-overdue": ({ s }: { s: number | null }, f: Formats) =>
    s === null ? "Calibration overdue" : `Calibration overdue by ${f.span(s)}`,
  "cylinder-empty": ({ pa }: { pa: number | null }, f: Formats) =>
    `Cylinder empty${pa === null ? "" : `: ${f.pressure(pa)} left`}`,
  "cylinder-low": ({ share }: { share: number | null }, f: Formats) =>
    `Cylinder low${share === null ? "" : `: ${f.percent(share)} left`}`,
  "gas-on-without-arc": ({ s }: { s: number }, f: Formats) =>
    `Gas on for ${f.span(s)} without an arc`,
  "gas-on-long": ({ s }: { s: number }, f: Formats) =>
    `Gas on for ${f.span(s)}, longer than usual here`,
  "gas-on-for": ({ s }: { s: number }, f: Formats) => `Gas on for ${f.span(s)}`,
  "purge-on": ({ s }: { s: number }, f: Formats) => `Purge on for ${f.span(s)}`,
  "purge-past-time": ({ s, wantedS }: { s: number; wantedS: number }, f: Formats) =>
    `Purge wanted ${f.span(wantedS)}, on for ${f.span(s)}: still wanted?`,
  "purge-past-volumes": ({ wanted, passed }: { wanted: number; passed: number }, f: Formats) =>
    `Purge wanted ${f.number(wanted)} volumes, ${f.number(passed)} are through: still wanted?`,
  "purge-long": ({ s }: { s: number }, f: Formats) =>
    `Purge on for ${f.span(s)}, longer than usual here: still wanted?`,
  "danger-confined": bare("the place is a confined space"),
  "danger-confined-at": ({ at }: { at: string }, _f: Formats) => `${at} is a confined space`,
  "danger-oxygen": ({ inS, at }: RoomValues, f: Formats) =>
    `oxygen ${room(at)} could fall to 19.5 % ${within(inS, f)}`,
  "danger-co2-short": ({ inS, at }: RoomValues, f: Formats) =>
    `CO2 ${room(at)} could reach 3 % ${within(inS, f)}`,
  "danger-co2-long": ({ inS, at }: RoomValues, f: Formats) =>
    `CO2 ${room(at)} could reach 0.5 % ${within(inS, f)}`,
  "gas-leaks": ({ lpm }: { lpm: number | null }, f: Formats) =>
    `Gas leaks${lpm === null ? "" : `: ${f.flow(lpm)}, ${f.volume(lpm * 1440)} a day`}`,
  "line-rises": (of: { pa: number; limitPa: number; inS: number }, f: Formats) =>
    `Line pressure rises: ${f.pressure(of.pa)} now, at its limit of ${f.pressure(of.limitPa)} in about ${f.span(of.inS)}`,
  "line-at-limit": (of: { pa: number | null; limitPa: number | null }, f: Formats) =>
    `Line pressure at its limit${of.limitPa === null ? "" : ` of ${f.pressure(of.limitPa)}`}${of.pa === null ? "" : `: ${f.pressure(of.pa)}`}`,
  "nobody-reachable": bare("Nobody can be reached: alarms stay in this room"),
  "node-clock-wrong": bare("The node's clock is wrong"),
  "node-clock-ahead": ({ s }: { s: number }, f: Formats) =>
    `The node's clock is ${f.span(s)} ahead: its readings are refused`,
  "node-refused": ({ why }: { why: string | null }, _f: Formats) =>
    `The node refused its settings${why ? `: ${why}` : ""}`,
  "node-silent": ({ s }: { s: number | null }, f: Formats) =>
    s === null ? "No word from the node" : `No word from the node for ${f.span(s)}`,
  "node-power-low": ({ volts }: { volts: number | null }, f: Formats) =>
    `The node's power is low${volts === null ? "" : `: ${f.number(volts)} V`}`,
  "too-little-gas": ({ share }: { share: number | null }, f: Formats) =>
    share === null
      ? "Too little shielding gas for this weld"
      : `Too little shielding gas: ${f.percent(share)} under the least for this weld`,
  "too-much-gas": ({ share }: { share: number | null }, f: Formats) =>
    share === null
      ? "Too much shielding gas for this weld"
      : `Too much shielding gas: ${f.percent(share)} over the most for this weld`,
  "still-dialled-up": ({ share }: { share: number }, f: Formats) =>
    `Flow device still dialled up: the next weld would get ${f.percent(share)} too much gas`,
  "setting-moved": ({ off }: { off: number | null }, f: Formats) =>
    off === null
      ? "The flow setting moved"
      : `The flow setting moved: ${f.percent(Math.abs(off))} ${off < 0 ? "under" : "over"} the target`,
  "line-climbs": (of: { paPerMinute: number | null; inS: number | null }, f: Formats) =>
    `Line pressure climbs with the torch closed${of.paPerMinute === null ? "" : `: ${f.step(of.paPerMinute)} a minute`}${of.inS === null ? "" : `, at its limit in about ${f.span(of.inS)}`}`,
  "may-ice-up": (of: { inS: number | null; bodyK: number | null }, f: Formats) =>
    `Regulator may ice up${of.inS === null ? " soon" : ` within ${f.span(of.inS)}`}${of.bodyK === null ? "" : `, its body is at ${f.temperature(of.bodyK)}`}`,
  "on-reserve": bare("Running on the reserve side"),
  "gas-left": ({ s }: { s: number }, f: Formats) => `Gas for about ${f.span(s)} of welding left`,
  "gas-left-job": ({ s, jobS }: { s: number; jobS: number }, f: Formats) =>
    `Gas for about ${f.span(s)} of welding left, the job needs ${f.span(jobS)}`,
  "gas-ends-soon": bare("Gas ends soon"),
  /** `faults`: `channel/fault` pairs with a space between. */
  "sensor-fault": ({ faults: list }: { faults: string }, _f: Formats) =>
    list === ""
      ? "Sensor fault"
      : `Sensor fault: ${list
          .split(" ")
          .map((one) => one.split("/"))
          .map(
            ([channel = "", fault = ""]) =>
              `${channels[channel] ?? channel}: ${faults[fault] ?? fault}`,
          )
          .join(", ")}`,
  "line-warms": (of: { pa: number | null; reachPa: number; inS: number | null }, f: Formats) =>
    `Line warms: ${of.pa === null ? "" : `${f.pressure(of.pa)} now, `}could reach ${f.pressure(of.reachPa)} ${of.inS === null ? "today" : `in about ${f.span(of.inS)}`}`,
  "line-left-full": ({ pa }: { pa: number | null }, f: Formats) =>
    `${pa === null ? "Pressure" : f.pressure(pa)} left in the line with the valve closed`,
  "gas-and-process": ({ gas }: { gas: string | null }, _f: Formats) =>
    `Gas and process do not match${gas ? `: ${gas}` : ""}`,
  "is-this-the-gas": ({ gas, like }: { gas: string | null; like: string | null }, _f: Formats) =>
    `Is this really ${gas ?? "the right gas"}?${like ? ` It behaves like ${like}` : ""}`,

  // Advice.
  "stop-the-arc": bare("Stop the arc."),
  "valve-is-closed": bare("The cylinder valve is closed: open it."),
  "check-supply": bare("Check cylinder valve, cylinder content and gas hose."),
  "declare-gasless": bare("For stick, gouging or gasless wire declare a job without gas."),
  "grind-out": bare("Grind out what was welded in air."),
  "look-at-torch": bare("Look at nozzle, diffuser, torch seals and hose."),
  "clean-nozzle": bare("Clean nozzle and diffuser, and look for a kinked or crushed hose."),
  "look-for-opening": bare("Look for a split torch seal, a hose off or cut, or a missing cup."),
  "leak-fluid": bare("Find it with leak fluid or ammonia-free soap solution, never with a flame."),
  "test-at-bench": bare("Test the flow device at the bench and enter the result."),
  "change-empty": bare(
    "Stop welding, close the cylinder valve and change the cylinder. Leave the rest in it, so that no air gets in; mark it empty and secure it. Turn the flow device back to its usual reading before you weld on the full one.",
  ),
  "full-one-ready": bare("See that a full one stands ready, or order one."),
  "less-than-a-day": bare("Less than a usual day's use."),
  "close-torch": bare(
    "Close the torch valve if nobody welds. Is it a purge? Declare it, and it is followed instead.",
  ),
  "purge-still-wanted": bare(
    "Ask who purges here. Still wanted? Declare it anew. If not, close its gas and end it on the screen.",
  ),
  "pools-no-monitor": bare("Argon and CO2 pool low; Leeward is no oxygen or CO2 monitor."),
  "do-not-go-in": bare(
    "Do not go in to look: ventilate, and test the air. Close the cylinder valve only where the air is known to be good.",
  ),
  "gas-gathers": ({ helium }: { helium: boolean }, _f: Formats) =>
    helium ? "Helium gathers under the roof; argon and CO2 pool low." : "Argon and CO2 pool low.",
  "hydrogen-burns": bare("The gas holds hydrogen: no flame, no spark."),
  "no-monitor": bare(
    "Leeward is no oxygen or CO2 monitor: the figure takes the room as well mixed. Follow your local rules.",
  ),
  "close-when-idle": bare("Close the cylinder valve when you do not weld."),
  "leak-before-seat": bare(
    "It is before the regulator's seat: cylinder valve, its packing, the inlet connection.",
  ),
  "leak-after-regulator": bare(
    "It is after the regulator: outlet, flow device, hose, torch valve.",
  ),
  "tighten-nothing": bare("Tighten nothing under pressure."),
  "may-leak-at": ({ at }: { at: string }, _f: Formats) =>
    `It may leak at any place that draws from this supply; the air is most in danger at ${at}.`,
  "would-be-empty": ({ s }: { s: number }, f: Formats) =>
    `The cylinder would be empty in ${f.span(s)}.`,
  "may-burst": bare(
    "Too much pressure can burst a hose or a gauge: stand clear of their faces, and follow your local rules.",
  ),
  "close-cylinder": bare("Close the cylinder valve."),
  bleed: (
    { closed, screw, confined }: { closed: boolean | null; screw: boolean; confined: boolean },
    _f: Formats,
  ) =>
    [
      // Null: said already.
      closed === null
        ? ""
        : closed
          ? "Close the cylinder valve if it is not quite shut."
          : "Close the cylinder valve.",
      confined
        ? "This place is set up as a confined space: do not let gas out in it. With the cylinder valve closed take regulator and hose outside, or ventilate the place and test its air first. Only then take the pressure off, with the gas test or purge button, never with the trigger while the power source is on, and watch the line fall to 0. Your local rules and the licensed practice for confined spaces come first."
        : "Let the gas out with the gas test or purge button; never with the trigger while the power source is on. Watch the line fall to 0.",
      screw
        ? "Then back the adjusting screw off until it turns freely, if the regulator has one."
        : "",
      confined ? "" : "Do not let gas out in a confined space.",
      "If the pressure climbs again with the valve closed, take the regulator out of service.",
    ]
      .filter(Boolean)
      .join(" "),
  "still-thawing": bare(
    "The regulator may still be thawing, so the cause is not known yet: a leaking seat or CO2 snow in the body.",
  ),
  "watch-the-screen": bare(
    "Watch the screen until a message gets through. Check the internet connection and the contacts in Setup, then press Test.",
  ),
  "check-node-time": bare(
    "Check that the node can reach the network's time, then restart it. Its samples are timed when they arrive until then.",
  ),
  "set-node-clock": bare(
    "Go by the gauges: all figures of this station are old. Let the node reach the shop's time and restart it; where several nodes say so, set the gateway's clock.",
  ),
  "correct-setting": bare("Correct the setting in Setup, or update the node's firmware."),
  "go-by-the-gauges": bare(
    "Look at the node: is its lamp lit, has it power and network? Until it is back all figures of this station are old: go by the gauges.",
  ),
  /** `conditions`: ids with a space between. */
  "standing-then": ({ conditions }: { conditions: string }, f: Formats) =>
    `Standing when it fell silent: ${conditions.split(" ").map(f.condition).join("; ")}.`,
  "change-adapter": bare(
    "Change the power adapter or cable (or the battery) before the node falls silent.",
  ),
  "turn-device": (
    of: { device: DeviceWord; way: "up" | "down" | "back"; reading: number; unit: string },
    f: Formats,
  ) => {
    // Nobody turns a device and watches an arc: it is set with gas flowing and no arc.
    const start = of.way === "back" ? "Turn" : "Press gas test and turn";
    return `${start} the ${of.device} ${of.way} to ${f.number(of.reading)} ${of.unit}.`;
  },
  "outside-procedure": (of: { above: boolean; bound: number; unit: string }, f: Formats) =>
    `That reading is ${of.above ? "above" : "below"} the ${f.number(of.bound)} ${of.unit} of the welding procedure; the true flow is inside it. Ask whoever signs for the procedure first.`,
  "too-low-for-regulator": bare(
    "Change the cylinder: it is too low for the regulator to hold the flow.",
  ),
  "only-to-finish": bare("Only to finish this weld:"),
  "turn-it-back": bare("Turn it back before you weld on the full cylinder."),
  "cannot-be-set": ({ why }: { why: string }, f: Formats) =>
    `Change the cylinder, or check regulator and flow device. The right flow cannot be set here (${f.reason(why)}).`,
  "raise-the-flow": bare(
    "Raise the flow at the flow device. If it does not rise, check cylinder valve, regulator and hose.",
  ),
  "may-look-right": ({ device }: { device: DeviceWord }, _f: Formats) =>
    `The ${device} may look right: it reads true only at the pressure and gas of its scale.`,
  "check-porosity": bare("Check what was welded meanwhile for porosity."),
  "turn-flow-down": bare("Turn the flow down at the flow device."),
  "jet-draws-air": bare("Too strong a jet draws air in and wastes gas."),
  "back-to-usual": bare("Turn the flow device back to its usual reading."),
  "with-gas-test": bare(
    "Do it with the gas test before you weld. A reading that was right on an empty cylinder floods the weld on a full one.",
  ),
  "was-it-knocked": bare(
    "Check the flow device: was it turned or knocked? Set it again while gas flows.",
  ),
  "more-than-heat": bare(
    "More than heat explains: a leaking seat, or CO2 snow in a body that was cold.",
  ),
  "pause-or-less": bare("Pause, or weld with less gas if the procedure allows."),
  "heater-on": bare("Check that the gas heater is on."),
  "use-heater": bare("For such flows use a gas heater, or share the flow between two cylinders."),
  "let-it-thaw": bare(
    "Let it thaw by itself: no flame, no hot water. Afterwards watch the line: snow left inside lifts its pressure.",
  ),
  "change-empty-side": bare(
    "Change the empty side now, while the reserve still lasts, and order what is missing. Close its valve first and let the pigtail's pressure off.",
  ),
  "bring-full": ({ changeS }: { changeS: number | null }, f: Formats) =>
    changeS === null
      ? "Bring a full cylinder now."
      : `Bring a full cylinder now: the change takes about ${f.span(changeS)}.`,
  "weld-at-most": ({ s }: { s: number }, f: Formats) =>
    `Start no weld longer than ${f.span(s)} of gas.`,
  "no-new-weld": bare("Start no new weld on this cylinder."),
  "plan-change": ({ changeS }: { changeS: number }, f: Formats) =>
    `Plan a cylinder change before the gas ends: it takes about ${f.span(changeS)}.`,
  "strap-probe": bare(
    "Strap the probe on the cylinder's bare wall again and cover it. Until then content and flow are known less well.",
  ),
  "change-sensor": bare(
    "Check plug and cable. Before you change the sensor close the cylinder valve and bleed the line. Until then go by the gauges; figures that rest on it are left out.",
  ),
  "find-cylinder-node": bare(
    "The node at the cylinder is not heard: check its power and the network. The content shown is the last that was read; go by the cylinder's gauge meanwhile.",
  ),
  "heat-alone": (of: { pa: number; limitPa: number }, f: Formats) =>
    `Heat alone should bring it to ${f.pressure(of.pa)} today, below the limit of ${f.pressure(of.limitPa)}.`,
  "gas-unsuited": ({ why }: { why: Unsuited }, _f: Formats) =>
    `Read the label on the cylinder: ${unsuited[why]}. Change the cylinder, or correct the set-up if it is wrong.`,
  "read-the-label": bare(
    "Stop and read the label on the cylinder; it counts, not the colour. Correct the set-up or change the cylinder. Never use adapters between cylinder connections.",
  ),

  // A reminder in the evening, no alarm.
  "bleed-before-leaving": bare("The line is still under pressure. Bleed it before you leave."),

  // Of the blueprint, which is not registered.
  "cylinder-hot": ({ bodyK }: { bodyK: number | null }, f: Formats) =>
    `Cylinder too hot${bodyK === null ? "" : `: ${f.temperature(bodyK)}`}`,
  "into-the-shade": bare("Move it into the shade."),
};

/** A length of time in days. */
export const englishDays = (n: number): string => (n === 1 ? "1 day" : `${n} days`);

export type EnglishSentences = typeof englishSentences;
