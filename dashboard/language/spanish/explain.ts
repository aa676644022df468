import type { explain as english } from "../english/explain.ts";

/** Spanish: words that explain a figure. */
export const explain: typeof english = {
  title: "De dónde sale",
  close: "Cerrar",
  openStation: "Abrir el puesto",
  from: "De",
  source: "Según",
  notKnown: (why) => `No se sabe: ${why}.`,
  asOf: (age) => `Última lectura ${age}.`,
  interval: "Los límites contienen la verdad 19 de cada 20 veces.",
  sensor: (range, accuracy) => `Sensor de 0 a ${range}, exacto a ±${accuracy} % de su rango.`,
  gauge: "Presión manométrica: cero es el aire de alrededor.",
  fields: {
    flow: "Caudal real",
    next: "Caudal al próximo gas abierto",
    demand: "Lo que necesita esta soldadura",
    indicated: "Lo que debería marcar el aparato",
    "dial-to": "Lo que hay que ajustar",
    content: "Gas en la botella",
    usable: "Gas aprovechable",
    left: "Tiempo de gas que queda",
    clock: "Vacía según la costumbre del puesto",
    leak: "Pérdida permanente",
    "cylinder-pressure": "Presión de la botella",
    "line-pressure": "Presión de línea",
    temperature: "Temperaturas",
  },
  readings: {
    "cylinder-pressure": "presión de la botella",
    "line-pressure": "presión de línea",
    "cylinder-temperature": "pared de la botella",
    "regulator-temperature": "cuerpo del regulador",
    arc: "arco",
  },
  methods: {
    "flow-line":
      "La presión de línea empuja el gas por la restricción. Su tamaño se aprendió de lo deprisa que se vacía la botella.",
    "flow-cylinder":
      "Lo deprisa que disminuye el gas de la botella, por su presión y temperatura. Es lento, y correcto.",
    "flow-both":
      "Presión de línea por la restricción, rápida, comparada con el vaciado de la botella, lento y correcto.",
    "flow-meter": "Lo dice un caudalímetro.",
    "flow-none": "No pasa gas: las presiones de línea y de botella están quietas.",
    unknown: "No se sabe.",
    next: "La presión de línea que habrá, por la restricción tal como estaba la última vez.",
    "demand-table":
      "Del proceso, tobera, material, corriente y corrientes de aire, por tablas de la práctica de soldeo.",
    "demand-own": "Dado con el procedimiento de este puesto.",
    "demand-none": "No hay procedimiento, así que no hay ventana.",
    "indicated-tube":
      "Un flotador nota lo denso que es el gas en el tubo: la lectura sale del caudal real, el gas y la presión en el tubo frente a los de su escala.",
    "indicated-gauge":
      "La esfera muestra una presión como caudal de su propio gas por su propio orificio: la lectura sale de la presión de línea.",
    "indicated-meter": "El medidor muestra el caudal real del gas al que está ajustado.",
    "dial-to":
      "La lectura con la que el caudal real alcanza el objetivo, contando la caída del regulador a ese caudal.",
    content:
      "Presión, temperatura del gas y volumen de agua dan la cantidad de gas, por la ecuación de estado del gas real.",
    "content-held":
      "Se mantiene de la última lectura con la válvula de la botella abierta; cerrada, la presión no dice nada.",
    "content-liquid":
      "Mientras parte es líquida, la presión no dice cuánto hay. Lo extraído se resta de lo cargado.",
    usable:
      "Lo que está por encima de la presión residual y de la presión a la que el regulador ya no da el caudal necesario.",
    "left-now": "Gas aprovechable entre el caudal actual.",
    "left-target":
      "Gas aprovechable entre el caudal que necesita esta soldadura, mayor que el actual.",
    clock: "Tiempo de gas que queda frente al uso de este puesto por hora y día de la semana.",
    leak: "La cantidad de gas que se va mientras no pasa a la antorcha, libre de lo que el calor y el frío hacen a la presión.",
    measured: "Medido por un sensor del nodo de este puesto.",
    "measured-none": "Ningún sensor lo dice ahora: no está montado, está en fallo o no llegó nada.",
  },
};
