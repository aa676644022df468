/** What the demand tables say of a weld: reasons, sources, remarks and what is missing. */
export const demand = {
  "source-modern-welding-2020": "Modern Welding, Goodheart-Willcox 2020, fig. 8-35",
  "source-supplier-handbook": "a gas supplier's welder handbook, GTAW fillet table by thickness",
  "source-beyer-2013": "Beyer et al., Science and Technology of Welding and Joining, 2013",
  "source-bitharas-2018":
    "Bitharas et al., Journal of Materials Processing Technology 255 (2018) 451-462",
  "source-aws-d1.1-draught":
    "AWS D1.1, draught limit of 5 mph (clause quoted on a welding site; check the edition)",
  "source-aws-d1.1-essential-flow":
    "AWS D1.1, flow as an essential variable: +50 % / -20 % (from memory; check the edition)",
  "source-well-mixed": "well-mixed dilution: volumes = ln(oxygen at start / oxygen wanted)",
  "source-api-rp-582":
    "API RP 582, limit of 0.5 % oxygen in the purge (second-hand; check the document)",
  "source-cup-numbers":
    "trade standard: GTAW cup number = bore in sixteenths of an inch (from memory)",
  "source-helium-memory":
    "handbook rule: helium needs 2 to 3 times the flow of argon (from memory)",
  "source-titanium-memory":
    "handbook rule: shield titanium until it is below about 425 °C (from memory)",
  "source-round-pipe":
    "textbook limit of laminar flow in a pipe, Re 2300; a short nozzle differs (from memory)",
  "source-common-practice": "common practice, no source",
  "source-procedure": "the welding procedure itself",
  "source-own-estimate": "own estimate, no source",
  "demand-from-to": "{about}: {n1} to {n2} L/min ({source})",
  "demand-at": "{about}: {n1} L/min ({source})",
  "demand-rule":
    "{about}: about {n1} L/min, a rule of thumb ({source}); no minimum or maximum follows from it",
  "demand-with-source": "{about} ({source})",
  "demand-cup": "cup {n1}",
  "demand-cup-between": "cup {n1}, between two rows",
  "demand-cup-rule": "{n1} CFH for each cup number",
  "demand-mode": "{wprocess} short-circuit",
  "demand-mode-spray": "{wprocess} spray",
  "demand-mode-pulsed": "{wprocess} pulsed",
  "demand-mode-flux": "FCAW-G FCAW-G",
  "demand-bore-rule": "1 L/min for each mm of bore",
  "demand-wire-rule": "10 L/min for each mm of wire",
  "demand-thickness": "{family} up to {n1} mm",
  "family-carbon-steel": "carbon-steel",
  "family-stainless": "stainless",
  "family-aluminium": "aluminium",
  "family-titanium": "titanium",
  "demand-still-air": "found sound in still air",
  "demand-production": "production cut to this without loss",
  "demand-helium": "{n1} % helium: {n2} to {n3} times the argon flow ({source})",
  "demand-gas-lens": "gas lens: 10 to 20 % less at the same cup ({source})",
  "demand-pulsed-aluminium": "pulsed GMAW on aluminium wants at least {n1} {wunit} ({source})",
  "demand-open-joint":
    "{joint}: gas falls away from an open joint, so the target moves up ({source})",
  "joint-edge": "edge",
  "joint-outside-corner": "outside corner",
  "joint-outside-corner-2": "outside-corner",
  "demand-out-of-position": "out of position ({wposition}): {n1} to {n2} {wunit} more ({source})",
  "demand-position-unknown":
    'The position "{wposition}" is not known (use names such as PA, PF, 1G, 3G, vertical): no allowance made.',
  "demand-above-rated":
    "{n1} A is above the torch's rated {n2} A: use a water-cooled or larger torch. More gas never replaces the rated current and duty.",
  "demand-hot-torch":
    "{n1} A: a gas-cooled torch lives longer with more flow above {n2} A ({source}); how much more: {more}",
  "demand-no-answer":
    "Above the torch's rated current or duty more gas is no answer: use water cooling.",
  "demand-draught": "draught {n1} m/s: minimum {n2} % higher ({source})",
  "demand-screen":
    "a draught of {n1} m/s is above {n2} m/s: put up a screen, more gas does not help ({source}); minimum and maximum hold behind the screen",
  "demand-no-flow-right":
    "no flow is right: larger cup, lens or screen (minimum {n1} is above maximum {n2} L/min)",
  "demand-need-cup": "the tables need the cup number, or material and thickness in the procedure",
  "demand-need-transfer":
    "the tables need transfer (short-circuit, spray, pulsed), or material and thickness in the procedure",
  "demand-own": "the procedure's own figures override the tables",
  "demand-no-own-minimum":
    "the procedure gives no target, and the tables no minimum that agrees with it: state the minimum in the procedure",
  "demand-no-own-maximum":
    "the procedure gives no target, and the tables no maximum that agrees with it: state the maximum in the procedure",
  "demand-own-minimum":
    "minimum: {n1} times the procedure's target, since no table's minimum agrees with it ({source})",
  "demand-own-maximum":
    "maximum: {n1} times the procedure's target, since no table's maximum agrees with it ({source})",
  "demand-no-procedure": "the station has no welding procedure",
  "demand-no-gas": "the gas of the station's supply is not known",
  "demand-active-gas":
    "This gas holds CO2 or oxygen: it burns the tungsten of GTAW. Check the cylinder's label.",
  "demand-polarity":
    "Polarity ({wpolarity}) is recorded; no source was found that ties the flow to it.",
  "nozzle-turbulent":
    "Reynolds number {n1} in the {n2} mm bore is above the pipe limit of {n3}: the stream may turn turbulent sooner. A remark, not a limit: a short nozzle differs from a long pipe.",
  "nozzle-standoff":
    "A standoff of {n1} mm reaches past the calm core of about {n2} mm of a bare cup: hold the cup nearer or fit a gas lens.",
  "nozzle-standoff-lens":
    "A standoff of {n1} mm reaches past the calm core of about {n2} mm of a gas lens: hold the cup nearer.",
  "preflow-usual": "pre-flow {n1} to {n2} s ({source})",
  "preflow-own": "pre-flow from the procedure",
  "postflow-own": "post-flow from the procedure",
  "postflow-usual": "post-flow {n1} to {n2} s ({source})",
  "postflow-rule": "post-flow 1 s for each 10 A, at least {n1} s ({source})",
  "postflow-no-current":
    "post-flow 1 s for each 10 A, at least {n1} s ({source}); the current is not known",
  "postflow-titanium":
    "titanium: keep gas on it until it is below about {n1} °C, with a trailing shield ({source})",
  "postflow-hot-torch":
    "gas-cooled above {n1} A: a longer post-flow spares torch and tungsten ({source}); how much longer: {more}",
} as const;

export type DemandPhrases = Readonly<Record<keyof typeof demand, string>>;
