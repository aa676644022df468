import type { floor as english } from "../english/floor.ts";

/** Spanish: the Floor and the wall view. */
export const floor: typeof english = {
  floor: {
    title: "Taller",
    empty: "Aún no hay puestos.",
    emptyNote: "Un nodo que se comunique aparecerá aquí; con un toque se asigna.",
    unclaimedTitle: "Nodos sin puesto",
    unclaimedNote: "Solo presiones sin procesar: sin un puesto no se puede decir más.",
    claim: "Asignar este nodo",
    lastSample: (age) => `última medida ${age}`,
    stood: (place: string, until: string) => `Estuvo en ${place} hasta ${until}.`,
    speaksAgain: "Vuelve a dar señales.",
    asideTitle: "Apartados",
    asideNote:
      "Sustituidos o retirados, y sin señales desde entonces. El que vuelva a darlas se ofrece como libre.",
    aside: (node: string, place: string, until: string, age: string) =>
      `${node} estuvo en ${place} hasta ${until}; última muestra ${age}.`,
    open: (name) => `Abrir ${name}`,
    channels: {
      "cylinder-pressure": "Botella",
      "line-pressure": "Línea",
      "cylinder-temperature": "Pared de la botella",
      "regulator-temperature": "Manorreductor",
      "ambient-temperature": "Aire",
      arc: "Arco",
      "cylinder-mass": "Báscula",
      "supply-voltage": "Alimentación",
    },
    yes: "sí",
    no: "no",
    page: (n, of) => `${n} de ${of}`,
  },
};
