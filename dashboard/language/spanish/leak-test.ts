import type { leakTest as english } from "../english/leak-test.ts";

/** Spanish: the ten-minute leak test on the Station page. */
export const leakTest: typeof english = {
  title: "Prueba de fugas",
  intro:
    "Se encierra gas y se observa diez minutos. Lo que se pierde se ve en las presiones, descontado lo que el calor y el frío hacen con ellas.",
  safety:
    "Busque fugas con líquido detector, nunca con una llama. El gas que escapa ocupa el lugar del aire: ventile recintos pequeños y fosos. Las normas locales van primero.",
  steps: {
    torch:
      "Cierre la antorcha; nadie suelda ni pulsa la prueba de gas hasta que termine la prueba.",
    torches: "Cierre todas las antorchas de este suministro: su gas contaría como fuga.",
    valve: "Cierre la válvula de la botella. Deje el gas en el regulador y la manguera.",
    shut: "Cierre también el regulador: afloje su tornillo hasta que gire libre, o cierre la válvula de su salida.",
    open: "Deje el regulador como está.",
    start: "Pulse empezar y no toque nada durante once minutos.",
  },
  regulator: {
    label: "El regulador está",
    shut: "también cerrado",
    shutNote: "nombra el lado que fuga",
    open: "abierto",
    openNote: "indica una fuga, apenas el lado",
  },
  now: "Encerrado ahora",
  cylinderSide: "Lado de la botella",
  lineSide: "Línea",
  lowPressure:
    "Apenas hay presión antes del regulador: ese lado no se puede probar. Abra despacio la válvula de la botella, apartándose, y vuelva a cerrarla.",
  lowLine: "Apenas hay presión en la línea: una fuga en ella no se vería.",
  gasOn: "Ahora fluye gas. Cierre primero la antorcha.",
  stale: "No hay lecturas recientes: la prueba no se puede observar.",
  start: "Empezar la prueba",
  giveUp: "Abandonar la prueba",
  settling: (left) => `El gas se asienta. Quedan ${left}; no toque nada.`,
  running: (left) => `La prueba está en marcha. Quedan ${left}; no toque nada.`,
  leaveIn:
    "Deje el gas en el regulador y la manguera hasta que termine, aunque abajo un recordatorio pida soltarlo. Si algo se vuelve urgente, atiéndalo primero: eso termina la prueba.",
  progress: "Avance de la prueba de fugas",
  of: (moment) => `Prueba de fugas, ${moment}`,
  found: {
    cylinder: "Una fuga entre la válvula de la botella y el asiento del regulador.",
    line: "Una fuga en la línea, entre el regulador y la antorcha.",
    both: "Una fuga a ambos lados del regulador.",
    unknown: "Una fuga. No se puede decir en qué lado.",
  },
  none: {
    both: "No se encontró ninguna fuga, a ningún lado del regulador.",
    cylinder:
      "No se encontró ninguna fuga entre la válvula de la botella y el asiento del regulador. La línea no se probó.",
    line: "No se encontró ninguna fuga en la línea. El lado de la botella no se probó.",
  },
  sides: {
    cylinder: "De la válvula al asiento del regulador",
    line: "Del regulador a la antorcha",
  },
  notJudged: "sin juzgar",
  loses: (rate, low, high) => `${rate} cm³/min (95 %: de ${low} a ${high})`,
  aDay: (litres) => `unos ${litres} L al día`,
  smallest: (rate) => `Una fuga de más de ${rate} cm³/min se habría encontrado.`,
  reference: "cm³ a 20 °C y 101,325 kPa.",
  why: {
    "gas-on":
      "Fluyó gas durante la prueba. Si todas las antorchas estaban cerradas, ese flujo es la fuga: ventile y búsquela.",
    "valve-opened": "La válvula de la botella se abrió antes del final.",
    "cylinder-changed": "Se cambió la botella.",
    "too-few-readings": "Llegaron muy pocas lecturas.",
    "no-pressure": "No había presión que vigilar.",
    ended: "Se abandonó.",
  },
  void: "La prueba no dice nada de fugas, ni bueno ni malo.",
  again: "Probar de nuevo",
  cautions: {
    "no-line-sensor":
      "La línea no se juzgó: ningún sensor de línea la lee antes de la restricción.",
    "regulator-open":
      "El regulador estaba abierto y alimenta la línea: el lado de la botella baja, fugue el lado que fugue. Con el regulador también cerrado, la prueba nombra el lado.",
    "line-draws-high-side":
      "El regulador estaba abierto: una línea con fuga toma gas del lado de la botella, que puede ser estanco. Con el regulador también cerrado, cada lado habla por sí mismo.",
    "volume-not-described":
      "El volumen antes del asiento del regulador no está descrito en la configuración: su pérdida puede ser la mitad mayor o menor.",
    "no-temperature":
      "No se midió la temperatura. Lo que el enfriamiento quita a la presión parece una fuga, y el calentamiento la oculta; el intervalo lo dice.",
    "high-side-empty":
      "El lado de la botella perdió toda su presión por sí solo. Con la válvula de la botella y la antorcha cerradas, eso es una fuga.",
    "high-side-without-pressure": "Apenas había presión antes del regulador: ese lado no se probó.",
    "line-without-pressure": "Apenas había presión en la línea: no se probó.",
    "valve-taken-as-closed":
      "Solo vale si la válvula de la botella estaba de verdad cerrada: una botella abierta mantiene la presión de su lado y oculta una fuga.",
  },
  next: {
    found:
      "Moje las uniones de ese lado con líquido detector; las burbujas muestran el sitio. Apriete solo sin presión.",
    none: "Abra despacio la válvula de la botella, apartándose. Si giró el tornillo, ajuste de nuevo la lectura.",
  },
};
