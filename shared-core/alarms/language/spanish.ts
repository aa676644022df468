import { type AlarmLanguage, type Formats, type Sentences, titlesOf } from "./say.ts";
import { spanishConditions } from "./spanish-conditions.ts";
import { spanishReasons } from "./spanish-reasons.ts";

const bare = (text: string) => () => text;
const within = (inS: number, f: Formats) => (inS <= 0 ? "ya" : `en unos ${f.span(inS)}`);

const room = (at: string | undefined) => (at === undefined ? "del local" : `en ${at}`);

const channels: Readonly<Record<string, string>> = {
  "cylinder-pressure": "sensor de presión de la botella",
  "line-pressure": "sensor de presión de la línea",
  "cylinder-temperature": "sensor de temperatura de la botella",
  "regulator-temperature": "sensor de temperatura del manorreductor",
  "ambient-temperature": "sensor de temperatura ambiente",
  "cylinder-mass": "báscula de la botella",
  arc: "señal de arco",
};

const faults: Readonly<Record<string, string>> = {
  "open-circuit": "cable cortado",
  "short-circuit": "cortocircuito",
  "out-of-range": "fuera de su rango",
  stuck: "no se mueve",
  noisy: "inestable",
  "node-silent": "su nodo no da señales",
  "fallen-off": "se ha soltado de la botella",
};

const unsuited = {
  "tig-inert": "el TIG necesita un gas inerte: el CO2 o el oxígeno queman el tungsteno y el cordón",
  "aluminium-inert":
    "el aluminio necesita un gas inerte: el CO2 o el oxígeno estropean la soldadura",
  "aluminium-hydrogen": "el hidrógeno produce poros en el aluminio",
  "cored-wire": "el hilo tubular con gas necesita CO2 o una mezcla con CO2",
};

const devices = {
  float: { el: "El flotador", al: "el flotador" },
  gauge: { el: "El manómetro", al: "el manómetro" },
  meter: { el: "El medidor", al: "el medidor" },
};
const ways = { up: "Suba", down: "Baje", back: "Vuelva a poner" };

const sentences: Sentences = {
  "welding-without-gas": bare("ALTO: soldadura sin gas"),
  "hose-pressure-odd": bare("Presión de manguera distinta de la habitual"),
  "hose-blocked": ({ share }, f) =>
    `Algo obstruye el gas: presión de manguera ${share === null ? "" : `un ${f.percent(share)} `}por encima de lo habitual`,
  "hose-open": ({ share }, f) =>
    `El gas se escapa antes de la tobera: presión de manguera ${share === null ? "" : `un ${f.percent(share)} `}por debajo de lo habitual`,
  "calibration-overdue": ({ s }, f) =>
    s === null ? "Calibración vencida" : `Calibración vencida desde hace ${f.span(s)}`,
  "cylinder-empty": ({ pa }, f) =>
    `Botella vacía${pa === null ? "" : `: quedan ${f.pressure(pa)}`}`,
  "cylinder-low": ({ share }, f) =>
    `Queda poco gas en la botella${share === null ? "" : `: ${f.percent(share)}`}`,
  "gas-on-without-arc": ({ s }, f) => `Gas abierto desde hace ${f.span(s)} sin arco`,
  "gas-on-for": ({ s }, f) => `Gas abierto desde hace ${f.span(s)}`,
  "gas-on-long": ({ s }, f) => `Gas abierto desde hace ${f.span(s)}, más de lo habitual aquí`,
  "purge-on": ({ s }, f) => `Purga en marcha desde hace ${f.span(s)}`,
  "purge-past-time": ({ s, wantedS }, f) =>
    `Purga declarada para ${f.span(wantedS)}, en marcha desde hace ${f.span(s)}: ¿hace falta aún?`,
  "purge-past-volumes": ({ wanted, passed }, f) =>
    `Purga declarada de ${f.number(wanted)} volúmenes, han pasado ${f.number(passed)}: ¿hace falta aún?`,
  "purge-long": ({ s }, f) =>
    `Purga en marcha desde hace ${f.span(s)}, más de lo habitual aquí: ¿hace falta aún?`,
  "danger-confined": bare("el lugar es un espacio confinado"),
  "danger-confined-at": ({ at }) => `${at} es un espacio confinado`,
  "danger-oxygen": ({ inS, at }, f) =>
    `el oxígeno ${room(at)} podría bajar al 19,5 % ${within(inS, f)}`,
  "danger-co2-short": ({ inS, at }, f) =>
    `el CO2 ${room(at)} podría llegar al 3 % ${within(inS, f)}`,
  "danger-co2-long": ({ inS, at }, f) =>
    `el CO2 ${room(at)} podría llegar al 0,5 % ${within(inS, f)}`,
  "gas-leaks": ({ lpm }, f) =>
    `Hay una fuga de gas${lpm === null ? "" : `: ${f.flow(lpm)}, ${f.volume(lpm * 1440)} al día`}`,
  "line-rises": (of, f) =>
    `La presión de línea sube: ahora ${f.pressure(of.pa)}, en unos ${f.span(of.inS)} en su límite de ${f.pressure(of.limitPa)}`,
  "line-at-limit": (of, f) =>
    `Presión de línea en su límite${of.limitPa === null ? "" : ` de ${f.pressure(of.limitPa)}`}${of.pa === null ? "" : `: ${f.pressure(of.pa)}`}`,
  "nobody-reachable": bare("No se puede avisar a nadie: las alarmas no salen de este taller"),
  "node-clock-wrong": bare("El reloj del nodo va mal"),
  "node-clock-ahead": ({ s }, f) =>
    `El reloj del nodo adelanta ${f.span(s)}: sus lecturas se rechazan`,
  "node-refused": ({ why }, f) =>
    `El nodo ha rechazado sus ajustes${why ? `: ${f.reason(why)}` : ""}`,
  "node-silent": ({ s }, f) =>
    s === null ? "El nodo no da señales" : `El nodo no da señales desde hace ${f.span(s)}`,
  "node-power-low": ({ volts }, f) =>
    `La alimentación del nodo es baja${volts === null ? "" : `: ${f.number(volts)} V`}`,
  "too-little-gas": ({ share }, f) =>
    share === null
      ? "Muy poco gas de protección para esta soldadura"
      : `Muy poco gas de protección: un ${f.percent(share)} por debajo del mínimo de esta soldadura`,
  "too-much-gas": ({ share }, f) =>
    share === null
      ? "Demasiado gas de protección para esta soldadura"
      : `Demasiado gas de protección: un ${f.percent(share)} por encima del máximo de esta soldadura`,
  "still-dialled-up": ({ share }, f) =>
    `El caudal sigue subido: la próxima soldadura recibiría un ${f.percent(share)} de gas de más`,
  "setting-moved": ({ off }, f) =>
    off === null
      ? "El ajuste de caudal se ha movido"
      : `El ajuste de caudal se ha movido: un ${f.percent(Math.abs(off))} por ${off < 0 ? "debajo" : "encima"} del objetivo`,
  "line-climbs": (of, f) =>
    `La presión de línea sube con la antorcha cerrada${of.paPerMinute === null ? "" : `: ${f.step(of.paPerMinute)} por minuto`}${of.inS === null ? "" : `, en su límite en unos ${f.span(of.inS)}`}`,
  "may-ice-up": (of, f) =>
    `El manorreductor puede helarse ${of.inS === null ? "pronto" : `en menos de ${f.span(of.inS)}`}${of.bodyK === null ? "" : `, su cuerpo está a ${f.temperature(of.bodyK)}`}`,
  "on-reserve": bare("Se está usando el lado de reserva"),
  "gas-left": ({ s }, f) => `Queda gas para unos ${f.span(s)} de soldadura`,
  "gas-left-job": ({ s, jobS }, f) =>
    `Queda gas para unos ${f.span(s)} de soldadura; el trabajo necesita ${f.span(jobS)}`,
  "gas-ends-soon": bare("El gas se acaba pronto"),
  "sensor-fault": ({ faults: list }) =>
    list === ""
      ? "Sensor averiado"
      : `Sensor averiado: ${list
          .split(" ")
          .map((one) => one.split("/"))
          .map(
            ([channel = "", fault = ""]) =>
              `${channels[channel] ?? channel}: ${faults[fault] ?? fault}`,
          )
          .join(", ")}`,
  "line-warms": (of, f) =>
    `La línea se calienta: ${of.pa === null ? "" : `ahora ${f.pressure(of.pa)}, `}podría llegar a ${f.pressure(of.reachPa)} ${of.inS === null ? "hoy" : `en unos ${f.span(of.inS)}`}`,
  "line-left-full": ({ pa }, f) =>
    pa === null
      ? "Ha quedado presión en la línea con la válvula cerrada"
      : `Han quedado ${f.pressure(pa)} en la línea con la válvula cerrada`,
  "gas-and-process": ({ gas }) => `El gas y el proceso no encajan${gas ? `: ${gas}` : ""}`,
  "is-this-the-gas": ({ gas, like }, f) =>
    `¿Es esto de verdad ${gas ?? "el gas correcto"}?${like ? ` Se comporta como ${f.reason(like)}` : ""}`,

  "stop-the-arc": bare("Corte el arco."),
  "valve-is-closed": bare("La válvula de la botella está cerrada: ábrala."),
  "check-supply": bare("Revise la válvula y el contenido de la botella y la manguera de gas."),
  "declare-gasless": bare(
    "Para electrodo, arco-aire o hilo autoprotegido declare un trabajo sin gas.",
  ),
  "grind-out": bare("Quite con la amoladora lo que se soldó sin gas."),
  "look-at-torch": bare("Mire la tobera, el difusor, las juntas de la antorcha y la manguera."),
  "clean-nozzle": bare("Limpie la tobera y el difusor y busque una manguera doblada o aplastada."),
  "look-for-opening": bare(
    "Busque una junta rota en la antorcha, una manguera suelta o cortada, o una tobera que falta.",
  ),
  "leak-fluid": bare(
    "Búsquela con líquido detector de fugas o agua jabonosa sin amoníaco, nunca con una llama.",
  ),
  "test-at-bench": bare("Pruebe el caudalímetro en el banco y anote el resultado."),
  "change-empty": bare(
    "Deje de soldar, cierre la válvula de la botella y cambie la botella. Deje dentro el resto, para que no entre aire; márquela como vacía y sujétela. Vuelva a poner el caudalímetro en su lectura habitual antes de soldar con la llena.",
  ),
  "full-one-ready": bare("Tenga una llena preparada o pídala."),
  "less-than-a-day": bare("Menos que el consumo de un día habitual."),
  "close-torch": bare(
    "Cierre la válvula de la antorcha si nadie suelda. ¿Es una purga? Declárela y se seguirá como tal.",
  ),
  "purge-still-wanted": bare(
    "Pregunte quién purga aquí. ¿Hace falta aún? Declárela de nuevo. Si no, cierre su gas y termínela en la pantalla.",
  ),
  "pools-no-monitor": bare(
    "El argón y el CO2 se acumulan abajo; Leeward no es un detector de oxígeno ni de CO2.",
  ),
  "do-not-go-in": bare(
    "No entre a mirar: ventile y mida el aire. Cierre la válvula de la botella solo donde se sepa que el aire es bueno.",
  ),
  "gas-gathers": ({ helium }) =>
    helium
      ? "El helio se acumula bajo el techo; el argón y el CO2, abajo."
      : "El argón y el CO2 se acumulan abajo.",
  "hydrogen-burns": bare("El gas contiene hidrógeno: ni llamas ni chispas."),
  "no-monitor": bare(
    "Leeward no es un detector de oxígeno ni de CO2: la cifra supone el aire del local bien mezclado. Siga las normas locales.",
  ),
  "close-when-idle": bare("Cierre la válvula de la botella cuando no suelde."),
  "leak-before-seat": bare(
    "Está antes del asiento del manorreductor: válvula de la botella, su empaquetadura, la conexión de entrada.",
  ),
  "leak-after-regulator": bare(
    "Está después del manorreductor: salida, caudalímetro, manguera, válvula de la antorcha.",
  ),
  "tighten-nothing": bare("No apriete nada bajo presión."),
  "may-leak-at": ({ at }) =>
    `La fuga puede estar en cualquier puesto de este suministro; donde más peligra el aire es en ${at}.`,
  "would-be-empty": ({ s }, f) => `La botella se vaciaría en ${f.span(s)}.`,
  "may-burst": bare(
    "Demasiada presión puede reventar una manguera o un manómetro: no se ponga delante y siga las normas locales.",
  ),
  "close-cylinder": bare("Cierre la válvula de la botella."),
  bleed: ({ closed, screw, confined }) =>
    [
      closed === null
        ? ""
        : closed
          ? "Cierre la válvula de la botella si no está del todo cerrada."
          : "Cierre la válvula de la botella.",
      confined
        ? "Este lugar está declarado como espacio confinado: en él no debe entrar gas. Con la válvula de la botella cerrada saque fuera el manorreductor y la manguera, o ventile el lugar y mida antes el aire. Solo entonces quite la presión, con la prueba de gas o el botón de purga, nunca con el gatillo con la fuente de corriente encendida, y mire cómo la línea baja a 0. Las normas locales y el permiso para espacios confinados van primero."
        : "Deje salir el gas con la prueba de gas o el botón de purga; nunca con el gatillo con la fuente de corriente encendida. Mire cómo la línea baja a 0.",
      screw
        ? "Después afloje el tornillo de regulación hasta que gire libre, si el manorreductor lo tiene."
        : "",
      confined ? "" : "No suelte gas en un espacio confinado.",
      "Si la presión vuelve a subir con la válvula cerrada, retire el manorreductor del servicio.",
    ]
      .filter(Boolean)
      .join(" "),
  "still-thawing": bare(
    "El manorreductor quizá aún se está deshelando, así que no se conoce la causa: un asiento que pierde o nieve de CO2 en el cuerpo.",
  ),
  "watch-the-screen": bare(
    "Vigile la pantalla hasta que pase un mensaje. Revise la conexión a internet y los contactos en la configuración y envíe una prueba.",
  ),
  "check-node-time": bare(
    "Compruebe que el nodo recibe la hora de la red y reinícielo. Hasta entonces sus medidas llevan la hora de llegada.",
  ),
  "set-node-clock": bare(
    "Guíese por los manómetros: todos los valores de este puesto son antiguos. Haga que el nodo reciba la hora del taller y reinícielo; si lo dicen varios nodos, ponga en hora el gateway.",
  ),
  "correct-setting": bare(
    "Corrija el ajuste en la configuración o actualice el firmware del nodo.",
  ),
  "go-by-the-gauges": bare(
    "Vaya a ver el nodo: ¿luce su lámpara, tiene corriente y red? Hasta que vuelva, todos los valores de este puesto son antiguos: guíese por los manómetros.",
  ),
  "standing-then": ({ conditions }, f) =>
    `Cuando dejó de dar señales había: ${conditions.split(" ").map(f.condition).join("; ")}.`,
  "change-adapter": bare(
    "Cambie el alimentador o el cable (o la batería) antes de que el nodo deje de dar señales.",
  ),
  "turn-device": (of, f) =>
    of.way === "back"
      ? `${ways.back} ${devices[of.device].al} en ${f.number(of.reading)} ${of.unit}.`
      : `Pulse la prueba de gas y ${ways[of.way].toLowerCase()} ${devices[of.device].al} hasta ${f.number(of.reading)} ${of.unit}.`,
  "outside-procedure": (of, f) =>
    `Esa lectura está por ${of.above ? "encima" : "debajo"} de los ${f.number(of.bound)} ${of.unit} del procedimiento de soldadura; el caudal real está dentro. Pregunte antes a quien firma el procedimiento.`,
  "too-low-for-regulator": bare(
    "Cambie la botella: está demasiado vacía para que el manorreductor mantenga el caudal.",
  ),
  "only-to-finish": bare("Solo para terminar esta soldadura:"),
  "turn-it-back": bare("Vuelva a bajarlo antes de soldar con la botella llena."),
  "cannot-be-set": ({ why }, f) =>
    `Cambie la botella o revise el manorreductor y el caudalímetro. Aquí no se puede ajustar el caudal correcto (${f.reason(why)}).`,
  "raise-the-flow": bare(
    "Suba el caudal en el caudalímetro. Si no sube, revise la válvula de la botella, el manorreductor y la manguera.",
  ),
  "may-look-right": ({ device }) =>
    `${devices[device].el} puede parecer correcto: solo marca bien con la presión y el gas de su escala.`,
  "check-porosity": bare("Revise si hay poros en lo que se soldó entretanto."),
  "turn-flow-down": bare("Baje el caudal en el caudalímetro."),
  "jet-draws-air": bare("Un chorro demasiado fuerte arrastra aire y desperdicia gas."),
  "back-to-usual": bare("Vuelva a poner el caudalímetro en su lectura habitual."),
  "with-gas-test": bare(
    "Hágalo con la prueba de gas antes de soldar. Una lectura correcta con la botella casi vacía da demasiado gas con una llena.",
  ),
  "was-it-knocked": bare(
    "Revise el caudalímetro: ¿se ha movido o golpeado? Ajústelo de nuevo con el gas pasando.",
  ),
  "more-than-heat": bare(
    "Más de lo que explica el calor: un asiento que pierde, o nieve de CO2 en un cuerpo que estaba frío.",
  ),
  "pause-or-less": bare("Haga una pausa, o suelde con menos gas si el procedimiento lo permite."),
  "heater-on": bare("Compruebe que el calentador de gas está encendido."),
  "use-heater": bare(
    "Para estos caudales use un calentador de gas o reparta el caudal entre dos botellas.",
  ),
  "let-it-thaw": bare(
    "Deje que se deshiele solo: ni llama ni agua caliente. Después vigile la línea: la nieve que queda dentro sube su presión.",
  ),
  "change-empty-side": bare(
    "Cambie ahora el lado vacío, mientras dure la reserva, y pida lo que falte. Cierre antes su válvula y suelte la presión del latiguillo.",
  ),
  "bring-full": ({ changeS }, f) =>
    changeS === null
      ? "Traiga ya una botella llena."
      : `Traiga ya una botella llena: el cambio lleva unos ${f.span(changeS)}.`,
  "weld-at-most": ({ s }, f) =>
    `No empiece ninguna soldadura que necesite más de ${f.span(s)} de gas.`,
  "no-new-weld": bare("No empiece otra soldadura con esta botella."),
  "plan-change": ({ changeS }, f) =>
    `Planee un cambio de botella antes de que se acabe el gas: lleva unos ${f.span(changeS)}.`,
  "strap-probe": bare(
    "Vuelva a sujetar la sonda a la pared desnuda de la botella y cúbrala. Hasta entonces el contenido y el caudal se conocen con menos exactitud.",
  ),
  "change-sensor": bare(
    "Revise el conector y el cable. Antes de cambiar el sensor cierre la válvula de la botella y descargue la línea. Hasta entonces guíese por los manómetros; los valores que dependen de él no se dan.",
  ),
  "find-cylinder-node": bare(
    "El nodo de la botella no da señales: revise su alimentación y la red. El contenido mostrado es el último leído; guíese entretanto por el manómetro de la botella.",
  ),
  "heat-alone": (of, f) =>
    `El calor por sí solo debería llevarla hoy a ${f.pressure(of.pa)}, por debajo del límite de ${f.pressure(of.limitPa)}.`,
  "gas-unsuited": ({ why }) =>
    `Lea la etiqueta de la botella: ${unsuited[why]}. Cambie la botella, o corrija la configuración si está mal.`,
  "read-the-label": bare(
    "Pare y lea la etiqueta de la botella; vale ella, no el color. Corrija la configuración o cambie la botella. No use nunca adaptadores entre conexiones de botella.",
  ),

  "bleed-before-leaving": bare("La línea sigue bajo presión. Descárguela antes de irse."),

  "cylinder-hot": ({ bodyK }, f) =>
    `Botella demasiado caliente${bodyK === null ? "" : `: ${f.temperature(bodyK)}`}`,
  "into-the-shade": bare("Póngala a la sombra."),
};

/** The alarms in Spanish. */
export const spanish: AlarmLanguage = {
  decimal: ",",
  days: (n) => (n === 1 ? "1 día" : `${n} días`),
  sentences,
  titles: titlesOf(spanishConditions),
  reasons: spanishReasons,
};
