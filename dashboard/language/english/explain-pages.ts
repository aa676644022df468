/** How the figures of Rack, Ledger, Look-back, Bench and Alarms come about. */
export const explainPages = {
  rests: "It rests on:",
  how: {
    "rack-price": "Entered with the cylinder. Leeward does not measure or fetch it.",
    "rack-full":
      "What a cylinder of this water volume holds at its filling, by the equation of state of the real gas. The cylinder in store is not measured: its label is believed.",
    "rack-in-store":
      "Cylinders of this gas that were entered as arrived, and neither fitted nor given back since. It is only as right as what is entered here.",
    "rack-lasts":
      "Each station of this gas changes its cylinder when its habit has used it up, and then as often as a full one lasts there. Named is the first change that finds no full cylinder in store.",
    "rack-order-by":
      "When the store is used up, less the days from order to delivery. They stand below the table.",
    "rack-order":
      "Changes by habit until an order of today has come and has lasted its days, less what is in store. Of a station whose habit is not known yet only the next change counts, if that can be foreseen.",
    "record-verdict":
      "Second by second the true flow is held against the least that this weld needs. Short: the whole 95 % interval lay below it, or the arc burned without gas, for 2 s together. Not short: the whole interval lay above it in every judged second, and none is missing. Else it cannot be told.",
    "record-starts":
      "Stretches of gas to the torch without a break in the record. The gas counts, not the arc: a press on gas test counts too.",
    "record-gas-on":
      "All seconds together in which more than 0.02 L/min flowed to the torch. Seconds without a record are not among them.",
    "record-used":
      "True flow times time, added up second by second. The bounds add up those of the flow, as if it always erred the same way: they are rather too wide than too narrow. What was not recorded is not counted.",
    "record-mean": "Gas used over the time that gas was on; the bounds likewise.",
    "record-lowest":
      "The judged second in which the true flow lay lowest against the least that was needed then. The bounds are those of this one second.",
    "record-needed":
      "The lower edge of the flow window as it held then: from the procedure that was set, or from tables of welding practice.",
    "record-short":
      "Seconds in which the whole 95 % interval of the true flow lay below the least that was needed.",
    "record-over":
      "Seconds in which the whole 95 % interval of the true flow lay above the most that this weld needs.",
    "record-doubt":
      "Seconds in which the least that was needed lay inside the 95 % interval of the true flow: it may have been enough, or not.",
    "record-enough":
      "Seconds in which the whole 95 % interval of the true flow lay above the least that was needed.",
    "record-edge":
      "The first two seconds and the last second of each start, while gas builds up and dies away. They are not judged.",
    "record-no-window":
      "Gas flowed and no procedure was set, so there was nothing to hold it against.",
    "record-trust":
      "The limit of error that the sensor's description gives, and the day of its last calibration or of the device's last bench test. Overdue after the day that is set, else after a year (common practice, no source).",
    "record-no-data":
      "Seconds for which no line was kept: the node was silent, or the gateway did not run. They count neither as use nor as good.",
    "record-arc": "Seconds in which the arc sensor saw an arc and no gas flowed.",
    "record-lost":
      "The mean standing loss of this time, by which the cylinder loses gas while none flows to the torch, times the recorded time with gas off.",
    "record-cost":
      "Gas used, at the price of a fill over what a full cylinder holds. The loss with gas off is not in it.",
    "record-swaps":
      "Changes seen in the record: the cylinder pressure jumped to that of another cylinder. What it held then follows from pressure, temperature and water volume.",
    "record-re-dials":
      "Turns of the flow device seen in the record: the flow changed at the same line pressure. The percentage is the flow after it over the flow before.",
    "record-alarms": "Alarms that held at any moment of this time, by the alarm journal.",
    "fit-verdict":
      "The rows are fitted to one device with its physics. If they scatter more than their uncertainties allow, by less than one chance in a hundred, they cannot come from one device (chi-squared).",
    "fit-residual":
      "What the meter read over what the fitted device would have passed at this row's reading and pressures. It should lie within the uncertainty of the row.",
    "fit-parameter":
      "Least squares over all rows that stand, starting from what such devices usually have. The bounds hold 95 %. Where the rows did not narrow it, it says so.",
    "fit-gain":
      "Half the 95 % interval of this station's flow, in percent of the flow: as it is, and as it would be if nothing but the print on the device were known.",
    "card-reading":
      "The reading at which the fitted device passes the target at this cylinder pressure, settled to room temperature.",
    "card-within":
      "95 % bounds of the true flow at this reading: from the scatter of the rows, the meter and what the model leaves out.",
    "weld-window":
      "The least, the target and the most, from process, cup or nozzle, material, current and draught, by tables of welding practice. 'Why this flow' names each source.",
    "weld-factor":
      "What the device really passes while it shows the target, over what it shows: from gas density, pressure and temperature in the device against those its scale was made for.",
    "weld-dial": "The reading at which the device, as tried here, passes the target.",
    "weld-time":
      "From tables of welding practice for this process and current. In brackets stands the span between the sources.",
    "weld-exit": "The target flow over the open area of the nozzle, cold, without an arc.",
    "weld-reynolds":
      "Flow, gas viscosity and nozzle bore. It tells a calm stream from a swirling one, that draws in air.",
    "cost-counted":
      "Gas-on spells in the station's journal of the last two weeks over the days that had any.",
    "cost-start":
      "What the hose holds at rest pressure above what it holds while gas flows, by the equation of state of the real gas at 20 °C. It is blown out at each start.",
    "cost-year": "Gas blown out at each start, times starts a day and workdays a year.",
    "cost-money": "Gas a year at the price for 1 m³.",
    "cost-saves":
      "The same sum at the lower pressure at rest, taken off that of today; both with the same starts.",
    "cost-post-flow": "Target flow times post-flow, stops and workdays a year, at the gas price.",
    "cost-second": "The same for one second of post-flow.",
    "cost-break-even":
      "How much longer tungsten and cup must last to save what one more second of post-flow costs. It is not known without their price, nor where that second costs more than they do.",
    "device-worst":
      "The largest error by size over all cylinder pressures, where the device is set to the mark each time. True flow over the target.",
    "device-left-alone":
      "The largest change of the true flow by size, where it was right with a full cylinder and nobody touched it since.",
    "device-ends":
      "The cylinder pressure below which the regulator no longer lets the device pass the target.",
    "device-surge":
      "Pressure at rest less pressure while gas flows, over the atmosphere: standard litres that each litre of hose blows out at a start.",
    "device-idle": "The line pressure at rest, as entered with the test.",
    "device-price": "Entered with the test.",
    "alarms-rang":
      "Alarms that rang in this time, by the alarm journal. One that came back counts again; one that another explains, or that was found only afterwards, does not ring. A day is 24 hours.",
    "alarms-standing":
      "Alarms whose condition holds at this moment, seen or not. It does not depend on the time chosen.",
    "alarms-mean":
      "Alarms that rang, over the ten-minute spells of the time chosen. The quiet spells count too. The aim is for one person, as it is commonly quoted from ISA-18.2; from memory.",
    "alarms-most": "The clock's ten-minute spell in which most alarms rang.",
    "alarms-over-ten":
      "Ten-minute spells of the clock in which more than ten alarms rang, over all spells of the time chosen. The aim is commonly quoted from ISA-18.2; from memory.",
    "alarms-chattering":
      "Alarms of one station and one kind that rang three times within a minute. What counts as chattering is commonly quoted from ISA-18.2; from memory.",
    "alarms-stale":
      "Alarms that hold now and have done so for more than 24 hours. The aim is commonly quoted from ISA-18.2; from memory.",
    "alarms-high-share":
      "Alarms that rang with the priority 'Now', over all that rang. The 5 % is meant of all alarms that are set up; up to 10 % of what rang counts as met, since a shop rings little (common practice, no source).",
    "alarms-flood":
      "A flood begins when more than ten alarms have rung within ten minutes, and ends when fewer than five have. Counted are all that rang from its beginning to its end.",
    "alarms-place":
      "How often this alarm of this station rang in the time chosen, and its share of all that rang.",
  },
};
