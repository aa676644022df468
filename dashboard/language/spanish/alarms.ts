import type { alarms as english } from "../english/alarms.ts";

/** Spanish: conditions in a few words, and "I have seen it". */
export const alarms: typeof english = {
  seen: {
    button: "Lo he visto",
    title: "Lo he visto",
    note: "Sigue en la página mientras dure; solo deja de avisarse a otros.",
    name: "Su nombre",
    by: (name, time) => `visto por ${name}, ${time}`,
  },
  conditions: {
    "under-shielding": "Muy poco gas.",
    "over-flow": "Más gas del que necesita la soldadura.",
    "arc-without-gas": "Arco sin gas.",
    "runs-out-soon": "La botella no va a durar.",
    "cylinder-low": "Queda poco gas en la botella.",
    "cylinder-empty": "Botella vacía.",
    "reserve-in-use": "Se está usando la reserva.",
    "trapped-line-pressure": "Presión atrapada en la línea.",
    "line-pressure-high": "Presión de línea demasiado alta.",
    "regulator-creep": "El manorreductor no cierra del todo.",
    "regulator-icing": "El manorreductor se está helando.",
    "back-pressure-changed": "La contrapresión ha cambiado.",
    leak: "Hay una fuga de gas.",
    "gas-left-on": "El gas está abierto y nadie suelda.",
    "reading-shift": "Se ha movido el ajuste o el aparato se comporta de otro modo.",
    "wrong-gas": "Puede que el gas no sea el correcto.",
    "sensor-fault": "Hay un sensor averiado.",
    "calibration-overdue": "La calibración está vencida.",
    "node-silent": "El nodo no da señales.",
    "node-clock-wrong": "El reloj del nodo va mal.",
    "node-config-refused": "El nodo ha rechazado sus ajustes.",
    "node-supply-low": "La tensión de alimentación del nodo es baja.",
    "nobody-reachable": "No se puede avisar a nadie.",
  },
};
