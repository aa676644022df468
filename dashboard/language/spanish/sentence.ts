import type { sentence as english } from "../english/sentence.ts";

/** Spanish: the one sentence of a station, on its tile and its page. */
export const sentence: typeof english = {
  sentence: {
    noDataYet: "Aún no hay datos.",
    noNode: "Este puesto no tiene ningún nodo asignado.",
    noNodeAdvice: "Asigne uno en Configurar: hasta entonces aquí no se mide nada.",
    clockAhead: (ahead) => `Reloj del nodo mal: adelanta ${ahead}.`,
    clockAheadAdvice:
      "Sus lecturas se rechazan hasta que el reloj esté bien: haga que el nodo alcance la hora del taller y reinícielo.",
    halfSetUp: "La configuración no está terminada.",
    parts: {
      regulator: "el regulador",
      flowDevice: "el caudalímetro",
      procedure: "lo que se suelda",
    },
    notDescribed: (parts) => `Aún sin describir: ${parts}. Así no se puede juzgar ningún caudal.`,
    toSetup: "Terminar la configuración",
    oldTitle: (age) => `Sin datos recientes; los últimos son de ${age}.`,
    lastKnown: (age) => `Último dato ${age}.`,
    oldAdvice: "Lo que se muestra puede haber cambiado.",
    nodeOffline: "El nodo está desconectado: revise su alimentación y la red.",
    flowUnknown: "El gas está abierto; no se sabe cuánto pasa.",
    noWindow:
      "Pasa gas. No está indicado lo que necesita esta soldadura, así que no se puede decir si es correcto.",
    notJudged: "Pasa gas; no se puede decir si es correcto.",
    liquid: "Queda CO₂ líquido: la presión no dice cuánto.",
    verdict: {
      right: "El caudal de gas es correcto.",
      low: "Menos gas del que necesita esta soldadura.",
      high: "Más gas del que necesita esta soldadura.",
      "near-low": "El caudal está cerca del mínimo para esta soldadura.",
      "near-high": "El caudal está cerca del máximo para esta soldadura.",
    },
    off: "El gas está cerrado.",
    next: {
      right: "Gas cerrado. Al abrir pasará lo que necesita esta soldadura.",
      low: "Gas cerrado. Al abrir pasaría muy poco.",
      high: "Gas cerrado. Al abrir pasaría demasiado.",
      "near-low": "Gas cerrado. Al abrir quedará cerca del mínimo para esta soldadura.",
      "near-high": "Gas cerrado. Al abrir quedará cerca del máximo para esta soldadura.",
    },
    setBefore: (reading, unit) =>
      `Pulse la prueba de gas y ajuste ${reading} ${unit} antes del arco.`,
    valveClosed: "Válvula de la botella cerrada.",
    valveClosedNote: "El contenido es el de la última lectura con la válvula abierta.",
    neverOpen: "Aún no hay presión de gas.",
    neverOpenNote:
      "Aquí la válvula de la botella no se ha visto abierta nunca: está cerrada, o los sensores no están montados.",
    unknown: "Aún nada seguro.",
    unknownNote: "Acaba de arrancar, o las lecturas se contradicen.",
    silent: "El nodo no da señales.",
    more: (n) => `${n} más`,
    since: (time) => `desde ${time}`,
    moreTitle: "Además",
  },
};
