import { pluralsOf } from "../plural.ts";

const plural = pluralsOf("en");

/** What every page shares: navigation, times and ages, state of the data. */
export const shell = {
  productName: "Leeward",
  nav: {
    label: "Pages",
    floor: "Floor",
    bench: "Bench",
    alarms: "Alarms",
    "look-back": "Look-back",
    setup: "Setup",
    rack: "Rack",
    ledger: "Ledger",
    alarmsStanding: (n: number) => `Alarms (${n})`,
    skip: "Skip to the content",
    wall: "Wall view",
    leaveWall: "Leave wall view",
  },
  time: {
    today: "today",
    underOneMinute: "under 1 min",
    minutes: (n: number) => `${n} min`,
    minutesBounds: (a: number, b: number) => `${a} to ${b} min`,
    minutesRange: (a: number, b: number) => `${a} – ${b} min`,
    hours: (n: string) => `${n} h`,
    hoursRange: (a: string, b: string) => `${a} – ${b} h`,
    hoursMinutes: (h: number, m: number) => `${h} h ${String(m).padStart(2, "0")}`,
    seconds: (n: number) => `${n} s`,
    days: (n: number) => plural(n, { one: `${n} day`, other: `${n} days` }),
    ago: (text: string) => `${text} ago`,
    now: "now",
  },
  state: {
    noCurrency: "currency not set",
    live: "live",
    connecting: "connecting …",
    notLive: "not live",
    lostTitle: "The gateway does not answer.",
    lostSince: (time: string) => `Nothing here is live since ${time}; every value below is old.`,
    lostNever: "No value has been received yet.",
    oldPage: (moment: string, age: string) =>
      `Last known ${moment}, ${age}. What has changed since is not shown here.`,
    asOf: (age: string) => `as of ${age}`,
    old: (age: string) => `old: ${age}`,
    noData: "no data yet",
    virtual: "virtual",
    virtualShop: "Virtual stations",
    virtualTitle: "Simulated stations: no real gas is measured here.",
    demoSpeed: (n: string) => `demo clock runs ${n}×`,
    starting: (what: string, percent: string) => `The gateway is starting: ${what} (${percent} %).`,
    /** What the gateway does while it starts, by its own English words. */
    startingWith: {
      "opening the store": "opening the store",
      "reading what came since the last snapshot": "reading what came since the last snapshot",
      "making up the virtual stations' past": "making up the virtual stations' past",
    } as Record<string, string>,
    loading: "Asking the gateway for its stations …",
    loadingPage: "Fetching this page …",
    loadAgain: "Load again",
    pageMissing: "This page could not be fetched. Load it again when the gateway is back.",
  },
  span: { from: "From", to: "To" },
  urgency: { now: "Now", soon: "Soon", today: "Today" },
};
