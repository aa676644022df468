/** The ten-minute leak test on the Station page. */
export const leakTest = {
  title: "Leak test",
  intro:
    "Gas is trapped and watched for ten minutes. What is lost shows in the pressures, freed of what warmth and cold do to them.",
  safety:
    "Look for a leak with leak-test solution, never with a flame. Escaped gas takes the air's place: ventilate small rooms and pits. Your local rules come first.",
  steps: {
    torch: "Shut the torch; nobody welds or presses gas test until the test is over.",
    torches: "Shut every torch on this supply: their gas would count as a leak.",
    valve: "Close the cylinder valve. Leave the gas in regulator and hose.",
    shut: "Shut the regulator too: back its screw out until it turns freely, or close the valve at its outlet.",
    open: "Leave the regulator as it is.",
    start: "Press start, and touch nothing for eleven minutes.",
  },
  regulator: {
    label: "The regulator is",
    shut: "shut too",
    shutNote: "names the side that leaks",
    open: "left open",
    openNote: "tells a leak, hardly the side",
  },
  now: "Trapped now",
  cylinderSide: "Side of the cylinder",
  lineSide: "Line",
  lowPressure:
    "There is hardly any pressure before the regulator: that side cannot be tested. Open the cylinder valve slowly, standing aside, and close it again.",
  lowLine: "There is hardly any pressure in the line: a leak in it would not show.",
  gasOn: "Gas flows now. Shut the torch first.",
  stale: "There are no fresh readings: the test cannot be watched.",
  start: "Start the test",
  giveUp: "Give up the test",
  settling: (left: string) => `The gas settles. Another ${left}; touch nothing.`,
  running: (left: string) => `The test runs. Another ${left}; touch nothing.`,
  leaveIn:
    "Leave the gas in regulator and hose until it is over, also where a reminder below asks to let it off. If something becomes urgent, see to that first: it ends the test.",
  progress: "Progress of the leak test",
  of: (moment: string) => `Leak test of ${moment}`,
  found: {
    cylinder: "A leak between cylinder valve and regulator seat.",
    line: "A leak in the line, between regulator and torch.",
    both: "A leak on both sides of the regulator.",
    unknown: "A leak. On which side cannot be said.",
  },
  none: {
    both: "No leak was found, on either side of the regulator.",
    cylinder:
      "No leak was found between cylinder valve and regulator seat. The line was not tested.",
    line: "No leak was found in the line. The side of the cylinder was not tested.",
  },
  sides: {
    cylinder: "Cylinder valve to regulator seat",
    line: "Regulator to torch",
  },
  notJudged: "not judged",
  loses: (rate: string, low: string, high: string) => `${rate} cm³/min (95 %: ${low} to ${high})`,
  aDay: (litres: string) => `about ${litres} L a day`,
  smallest: (rate: string) => `A leak of more than ${rate} cm³/min would have been found.`,
  reference: "cm³ at 20 °C and 101.325 kPa.",
  why: {
    "gas-on":
      "Gas flowed during the test. If every torch was shut, that flow is the leak: ventilate, and look for it.",
    "valve-opened": "The cylinder valve was opened before the end.",
    "cylinder-changed": "The cylinder was changed.",
    "too-few-readings": "Too few readings came in.",
    "no-pressure": "There was no pressure to watch.",
    ended: "It was given up.",
  },
  void: "The test says nothing about leaks, good or bad.",
  again: "Test again",
  cautions: {
    "no-line-sensor": "The line was not judged: no line sensor reads it before the restriction.",
    "regulator-open":
      "The regulator was open and feeds the line: the side of the cylinder falls whichever side leaks. With the regulator shut too, the test names the side.",
    "line-draws-high-side":
      "The regulator was open: a leaking line draws on the side of the cylinder, which may be tight. With the regulator shut too, each side speaks for itself.",
    "volume-not-described":
      "The volume before the regulator's seat is not described in Setup: its loss may be half as much again, or half.",
    "no-temperature":
      "No temperature was measured. What cooling takes from the pressure looks like a leak, and warming hides one; the interval says so.",
    "high-side-empty":
      "The side of the cylinder lost all its pressure by itself. With cylinder valve and torch shut, that is a leak.",
    "high-side-without-pressure":
      "There was hardly any pressure before the regulator: that side was not tested.",
    "line-without-pressure": "There was hardly any pressure in the line: it was not tested.",
    "valve-taken-as-closed":
      "This holds only if the cylinder valve was really closed: an open cylinder holds its side up, and hides a leak.",
  },
  next: {
    found:
      "Wet the joints of that side with leak-test solution; bubbles show the place. Tighten only without pressure.",
    none: "Open the cylinder valve slowly, standing aside. Set the reading again if the screw was turned.",
  },
};
