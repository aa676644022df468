import type { shell as english } from "../english/shell.ts";
import { pluralsOf } from "../plural.ts";

const plural = pluralsOf("es");

/** Spanish: what every page shares: navigation, times and ages, state of the data. */
export const shell: typeof english = {
  productName: "Leeward",
  nav: {
    label: "Páginas",
    floor: "Taller",
    bench: "Banco de pruebas",
    alarms: "Alarmas",
    "look-back": "Retrospectiva",
    setup: "Configurar",
    rack: "Botellas",
    ledger: "Libro",
    alarmsStanding: (n) => `Alarmas (${n})`,
    skip: "Ir al contenido",
    wall: "Vista mural",
    leaveWall: "Salir de la vista mural",
  },
  time: {
    today: "hoy",
    underOneMinute: "menos de 1 min",
    minutes: (n) => `${n} min`,
    minutesBounds: (a, b) => `de ${a} a ${b} min`,
    minutesRange: (a, b) => `${a} – ${b} min`,
    hours: (n) => `${n} h`,
    hoursRange: (a, b) => `${a} – ${b} h`,
    hoursMinutes: (h, m) => `${h} h ${String(m).padStart(2, "0")}`,
    seconds: (n) => `${n} s`,
    days: (n) => plural(n, { one: `${n} día`, other: `${n} días` }),
    ago: (text) => `hace ${text}`,
    now: "ahora",
  },
  state: {
    noCurrency: "moneda sin indicar",
    live: "en directo",
    connecting: "conectando …",
    notLive: "sin conexión",
    lostTitle: "La pasarela no responde.",
    lostSince: (time) => `Nada de esto está al día desde ${time}; todos los valores son antiguos.`,
    lostNever: "Aún no se ha recibido ningún valor.",
    oldPage: (moment, age) =>
      `Lo último conocido es de ${moment}, ${age}. Lo que ha cambiado desde entonces no se muestra aquí.`,
    asOf: (age) => `datos de ${age}`,
    old: (age) => `antiguo: ${age}`,
    noData: "aún sin datos",
    virtual: "virtual",
    virtualShop: "Puestos virtuales",
    virtualTitle: "Puestos simulados: aquí no se mide gas real.",
    demoSpeed: (n) => `el reloj de la demostración va a ${n}×`,
    starting: (what, percent) => `La pasarela está arrancando: ${what} (${percent} %).`,
    startingWith: {
      "opening the store": "se abre el almacén de datos",
      "reading what came since the last snapshot":
        "se lee lo que llegó desde el último estado guardado",
      "making up the virtual stations' past": "se recrea el pasado de los puestos virtuales",
    },
    loading: "Pidiendo los puestos a la pasarela …",
    loadingPage: "Recuperando esta página …",
    loadAgain: "Cargar de nuevo",
    pageMissing:
      "No se ha podido recuperar esta página. Cárguela de nuevo cuando la pasarela haya vuelto.",
  },
  span: { from: "De", to: "A" },
  urgency: { now: "Ahora", soon: "Pronto", today: "Hoy" },
};
