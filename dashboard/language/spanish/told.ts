import type { told as english } from "../english/told.ts";

/** Spanish: what people have told, and what a reading can mean. */
export const told: typeof english = {
  told: {
    title: "Lo comunicado hasta ahora",
    purgeFor: (time) => `Purga en marcha desde hace ${time}; mida el oxígeno antes de soldar.`,
    purgeMinutes: (time, of) => `Purga: ${time} de ${of}; mida el oxígeno antes de soldar.`,
    purgeVolumes: (passed) => `Han pasado ${passed} volúmenes; mida el oxígeno antes de soldar.`,
    purgeVolumesOf: (passed, of) => `Han pasado ${passed} de ${of} volúmenes; siga purgando.`,
    purgeProgress: "Avance de la purga",
    job: (job) => `Trabajo ${job}`,
    jobNoNumber: "Un trabajo sin número",
    gasless: "Sin gas",
    welder: (name) => `soldador ${name}`,
    since: (time) => `desde ${time}`,
    unassigned:
      "No se ha comunicado ningún trabajo: el gas queda sin asignar hasta que alguien lo reclame.",
    code: "Escanee o escriba un código",
    codeNote:
      "P antes de un procedimiento, J antes de un trabajo, W antes de un soldador: P:WPS-12 J:4711 W:Anna. Sirve un lector que escriba.",
    codeScan: "Escanear",
    codeNoCamera: "Los códigos se pueden escribir. La cámara necesita esta página por https:",
    codeCameraHow: "cómo conseguirlo",
    codeUse: "Usarlo",
    codeUnknown: (code) =>
      `Aquí aún no se conoce el procedimiento ${code}. Elíjalo abajo; después se conocerá por este código.`,
    codeBad: "Nada de este código se conoce. Empieza con P:, J: o W:.",
    welderName: "Soldador (puede quedar vacío)",
    undo: "Deshacer el cambio",
    undoNote: (until) =>
      `Se comunicó un cambio. Si fue un error, se puede deshacer hasta las ${until}.`,
    undone: "Deshecho: vuelve a contar la botella anterior.",
    inOrder: "Por orden de probabilidad:",
    thenFlow: (flow) => `Entonces el caudal real es ${flow}.`,
    lost: (flow) => `Unos ${flow} se pierden antes del aparato.`,
    likeGas: (gas) => `Encajaría con ${gas}.`,
    likeTube: (pressure) => `Encajaría con un tubo marcado ${pressure}.`,
    likeTubeGas: (gas) => `Encajaría con una escala para ${gas}.`,
    causes: {
      "read-at": {
        name: "Leído en otra parte del flotador.",
        look: "Media bola es fácilmente medio litro.",
      },
      tube: {
        name: "Un tubo o una escala para otro gas u otra presión.",
        look: "Compare lo impreso con la descripción.",
      },
      gas: {
        name: "Otro gas que el descrito.",
        look: "Pare y lea la etiqueta de la botella; cuenta ella, no el color.",
      },
      tilt: {
        name: "Un tubo que no está vertical.",
        look: "Cuélguelo a plomo y lea otra vez.",
      },
      stuck: {
        name: "Un flotador que se atasca.",
        look: "Pulse la prueba de gas y mire si se mueve; golpee el tubo.",
      },
      leak: {
        name: "Una fuga antes del aparato.",
        look: "Líquido detector en cada unión hasta el aparato, nunca una llama.",
      },
      gauge: {
        name: "Un manómetro que ya no dice la verdad.",
        look: "Sin presión, la aguja debe quedar en su tope.",
      },
      "meter-gas": {
        name: "Un medidor ajustado a otro gas.",
        look: "Compare su ajuste con la etiqueta de la botella.",
      },
      pressures: {
        name: "La cifra de Leeward no es correcta.",
        look: "Un sensor desviado o una botella mal descrita: una prueba en el banco lo aclara.",
      },
    },
  },
};
