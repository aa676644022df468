import type { ConditionWords } from "./say.ts";

/** Why each alarm exists, in Spanish. */
export const spanishConditions: Readonly<Record<string, ConditionWords>> = {
  "under-shielding": {
    title: "Muy poco gas de protección",
    cause:
      "Caudal ajustado demasiado bajo o leído donde no es, presión de línea menor que la de la escala, una botella casi vacía, un manorreductor que decae o se hiela.",
    consequence:
      "El aire llega al baño de fusión: poros, oxidación, un tungsteno estropeado, trabajo repetido.",
    operatorAction:
      "Pare en cuanto pueda y ponga el caudalímetro en la lectura indicada; cambie la botella si el manorreductor ya no mantiene el caudal.",
    timeToRespond: "Antes de la próxima soldadura; en menos de 1 min.",
    limit:
      "Caudal real por debajo del mínimo de la soldadura con un 95 % de confianza, con el gas abierto.",
  },
  "over-flow": {
    title: "Demasiado gas de protección",
    cause:
      "Caudal ajustado demasiado alto, o subido con una botella casi vacía y no devuelto, presión de línea mayor que la de la escala.",
    consequence: "Se desperdicia gas; un chorro turbulento arrastra aire a la soldadura.",
    operatorAction: "Baje el caudalímetro a la lectura indicada.",
    timeToRespond: "Dentro del turno.",
    limit:
      "Caudal real por encima del máximo de la soldadura con un 95 % de confianza, con el gas abierto.",
  },
  "arc-without-gas": {
    title: "Soldadura sin gas",
    cause:
      "Válvula de la botella cerrada, botella vacía, una válvula de gas que no abre, una manguera suelta; o un trabajo sin gas que no se declaró.",
    consequence:
      "La soldadura se hace al aire: hay que eliminarla con la muela; el tungsteno y la tobera sufren.",
    operatorAction:
      "Corte el arco, abra el gas. Si el trabajo no necesita gas (electrodo, arco-aire, hilo autoprotegido), declárelo.",
    timeToRespond: "Al momento.",
    limit:
      "Arco visto mientras no pasa gas, o menos de una cuarta parte del mínimo con un 95 % de confianza. Solo donde hay señal de arco y sensor de línea.",
  },
  "runs-out-soon": {
    title: "El gas se acaba pronto",
    cause: "La botella se acaba con el caudal actual o con el previsto.",
    consequence: "El gas se acaba en mitad de una soldadura.",
    operatorAction:
      "Traiga ya una botella llena; no empiece ninguna soldadura más larga que el tiempo indicado.",
    timeToRespond:
      "Lo que tarda aquí un cambio de botella: el tiempo de cambio del puesto; si no consta, 10 min.",
    limit:
      "Más de un 5 % de probabilidad de que el gas se acabe dentro del tiempo de cambio más la soldadura en curso, y el final previsto está a menos de 40 min o de cuatro tiempos de cambio, lo que sea mayor; o un trabajo declarado necesita más de lo que queda.",
  },
  "cylinder-low": {
    title: "Queda poco gas en la botella",
    cause: "Queda una cuarta parte del contenido, o menos que el consumo de un día.",
    consequence: "Sin una botella llena en el almacén, el trabajo se para cuando esta se acabe.",
    operatorAction: "Tenga una llena preparada o pídala.",
    timeToRespond: "Dentro del día.",
    limit:
      "Contenido por debajo del 25 %, o del consumo de un día (como mucho media botella), con un 80 % de confianza.",
  },
  "cylinder-empty": {
    title: "Botella vacía",
    cause: "La presión de la botella está por debajo de la residual que debe quedar en ella.",
    consequence:
      "El manorreductor ya no mantiene el caudal; por debajo de la presión atmosférica entran aire y humedad.",
    operatorAction: "Pare, cierre la válvula de la botella y cambie la botella.",
    timeToRespond: "Ahora, antes de la próxima soldadura.",
    limit:
      "Presión de la botella por debajo de la residual con un 80 % de confianza, y el contenido coincide. Una válvula cerrada y descargada no es una botella vacía.",
  },
  "reserve-in-use": {
    title: "Reserva en uso",
    cause: "El lado principal está vacío o cerrado y el inversor ha pasado a la reserva.",
    consequence:
      "Cuando también se acabe la reserva, se paran todos los puestos de este suministro.",
    operatorAction: "Cambie el lado vacío y devuelva el inversor a su posición si se hace a mano.",
    timeToRespond: "Dentro del turno.",
    limit: "El lado de reserva alimenta el suministro.",
  },
  "trapped-line-pressure": {
    title: "Ha quedado presión en la línea",
    cause:
      "Se cerró la válvula de la botella sin descargar la línea, o el sol o un taller caliente calientan una línea cerrada.",
    consequence:
      "Manguera, manómetro y manorreductor siguen cargados; el calor sube más la presión, y un racor abierto bajo presión puede herir.",
    operatorAction:
      "Cierre la válvula de la botella, descargue la línea a 0 y afloje el tornillo de regulación.",
    timeToRespond: "Antes de irse; en menos de 30 min donde el calor la lleva al límite.",
    limit:
      "Válvula de la botella cerrada con más de 0,3 bar en la línea; o la previsión para la hora más calurosa del día, solo por el calor, llega al 90 % del límite de la línea; o su tendencia llega en 30 min.",
  },
  "line-pressure-high": {
    title: "Presión de línea cerca del límite",
    cause:
      "Un asiento que fuga, un manorreductor demasiado alto, calor sobre una línea cerrada, o nieve de CO2 que pasa a gas.",
    consequence:
      "Puede reventar una manguera, un manómetro o un manorreductor; puede abrirse un dispositivo de alivio.",
    operatorAction: "Apártese, cierre la válvula de la botella y descargue la línea.",
    timeToRespond: "En menos de 10 min; al momento donde se ha llegado al límite.",
    limit:
      "Presión de línea al 95 % de la mayor que pueden soportar manorreductor, manguera y antorcha; o en camino de llegar en 20 min con un 95 % de confianza de que sube, sea por lo que sea (desde 120 s después de cerrar el gas).",
  },
  "regulator-creep": {
    title: "El manorreductor deja pasar gas",
    cause:
      "Un asiento sucio o gastado que deja pasar gas con la antorcha cerrada, o nieve de CO2 en un manorreductor frío que pasa a gas.",
    consequence:
      "La línea sube hasta su límite o hasta la presión de la botella: puede reventar la manguera o el manómetro.",
    operatorAction:
      "Cierre la válvula de la botella y descargue la línea; si vuelve a subir con la válvula cerrada, retire el manorreductor del servicio.",
    timeToRespond: "Dentro de la hora; en menos de 10 min donde la tendencia llega al límite.",
    limit:
      "La línea en reposo sube 0,005 bar/min más deprisa de lo que explica el calor, con un 95 % de confianza, desde 120 s después de cerrar el gas. De día, el sol sobre la manguera puede explicar 60 K por hora. Mientras un cuerpo frío se deshiela, solo por encima de los dos límites del calor.",
  },
  "regulator-icing": {
    title: "El manorreductor está a punto de helarse",
    cause:
      "Más caudal del que el cuerpo puede calentar: el CO2 y las mezclas lo enfrían por debajo de cero al expandirse, el aire húmedo se hiela sobre él, el CO2 puede hacerse nieve dentro.",
    consequence:
      "El suministro varía o se corta en mitad de una soldadura; la nieve que queda dentro sube después la presión de línea.",
    operatorAction:
      "Haga una pausa o baje el caudal; para estos caudales ponga un calentador de gas o una segunda botella.",
    timeToRespond: "Unos minutos.",
    limit:
      "Más de un 30 % de probabilidad de que el suministro baje un 5 % con el caudal actual; o, donde solo se conoce la temperatura del cuerpo, una previsión por debajo de 0 °C.",
  },
  "back-pressure-changed": {
    title: "Manguera o antorcha han cambiado",
    cause:
      "Más alta: tobera o difusor llenos de proyecciones, una manguera doblada. Más baja: una junta rota, una manguera suelta o cortada, una tobera que falta.",
    consequence: "El gas que sale del manorreductor no llega a la soldadura como debe.",
    operatorAction: "Mire tobera, difusor, juntas de la antorcha y manguera.",
    timeToRespond: "Antes de la próxima soldadura.",
    limit:
      "Presión de manguera con este caudal a más de un 25 % de la habitual, con un 95 % de confianza. Necesita un sensor después del caudalímetro.",
  },
  leak: {
    title: "Fuga de gas",
    cause:
      "Una conexión floja, una junta gastada, una manguera agrietada o una válvula de antorcha que no cierra del todo.",
    consequence:
      "La botella se vacía sin que se note; en un local pequeño o confinado el gas desplaza el aire.",
    operatorAction:
      "Cierre la válvula de la botella cuando no suelde; busque la fuga con líquido detector, nunca con una llama.",
    timeToRespond: "Dentro del día; al momento donde el aire del local está en peligro.",
    limit:
      "Pérdida mayor de 0,02 L/min con un 99 % de confianza mientras no pasa nada. Urgente donde el local, con el aire bien mezclado, podría bajar al 19,5 % de oxígeno o llegar al 0,5 % o al 3 % de CO2, o donde el lugar es un espacio confinado.",
  },
  "gas-left-on": {
    title: "Gas dejado abierto",
    cause:
      "Una purga olvidada, una válvula de antorcha abierta, una prueba de gas que se quedó enganchada.",
    consequence:
      "La botella se vacía para nada; en un local pequeño o confinado el gas desplaza el aire.",
    operatorAction:
      "Cierre la válvula de la antorcha o declare la purga. Donde el aire está en peligro: ventile.",
    timeToRespond: "15 min; al momento donde el aire del local está en peligro.",
    limit:
      "Gas abierto 20 min sin arco, más de lo habitual en este puesto. Un arco o una purga declarada lo excluye. Urgente (tras 5 min) donde el local, con el aire bien mezclado, podría bajar en 30 min al 19,5 % de oxígeno o llegar al 0,5 % o al 3 % de CO2, o donde el lugar es un espacio confinado.",
  },
  "reading-shift": {
    title: "El ajuste de caudal se ha movido",
    cause:
      "El caudalímetro se movió o recibió un golpe, se comporta de otro modo, o se subió con una botella casi vacía y no se devolvió.",
    consequence:
      "La próxima soldadura recibe demasiado o muy poco gas; con una botella llena, muchísimo.",
    operatorAction: "Ponga el caudalímetro en la lectura indicada antes de la próxima soldadura.",
    timeToRespond: "Antes de la próxima soldadura.",
    limit:
      "Tras moverse: caudal real a más de un 15 % del objetivo y más lejos que antes, con un 95 % de confianza. Tras un cambio de botella o cuando la línea se recupera, si antes se había subido: la próxima apertura daría un 15 % más que el objetivo, con un 90 % de confianza.",
  },
  "wrong-gas": {
    title: "Gas equivocado",
    cause:
      "Se puso una botella de otro gas, la etiqueta o la configuración están mal, o la configuración no va con el proceso.",
    consequence:
      "Soldaduras estropeadas, un tungsteno quemado; todos los caudales del puesto son erróneos.",
    operatorAction:
      "Pare y lea la etiqueta de la botella: ella identifica el gas, no el color. Corrija la configuración o cambie la botella.",
    timeToRespond: "Antes de la próxima soldadura.",
    limit:
      "Un 95 % de probabilidad de que el gas se comporte distinto de su etiqueta; o un gas en la configuración que no va con el proceso.",
  },
  "sensor-fault": {
    title: "Sensor averiado",
    cause:
      "Un cable cortado o en cortocircuito, un conector mojado, un sensor fuera de su rango o agotado.",
    consequence:
      "Los valores que dependen de él faltan o son antiguos; puede que otras alarmas no se puedan juzgar.",
    operatorAction:
      "Revise el conector y el cable y cambie el sensor. Entretanto guíese por los manómetros.",
    timeToRespond: "Dentro del turno.",
    limit:
      "El nodo o la estimación comunica un fallo de un canal. Prioridad media si es una presión.",
  },
  "calibration-overdue": {
    title: "Calibración vencida",
    cause: "La última prueba en el banco o calibración ha pasado de fecha.",
    consequence:
      "Los valores de caudal pueden haberse desviado; puede que no se acepten los registros.",
    operatorAction: "Pruebe el caudalímetro en el banco o haga calibrar los sensores.",
    timeToRespond: "Dentro de la semana.",
    limit:
      "Un año después de la última prueba en el banco o de la calibración de un sensor, o la fecha de la configuración.",
  },
  "node-silent": {
    title: "El nodo no da señales",
    cause: "Sin corriente, sin red, o el nodo ha fallado.",
    consequence: "Todos los valores del puesto son antiguos; ninguna otra alarma se puede juzgar.",
    operatorAction:
      "Revise la alimentación y la red del nodo. Entretanto guíese por los manómetros.",
    timeToRespond: "15 min.",
    limit:
      "El bróker comunica que el nodo se ha ido, o no llega ningún paquete en tres veces su ritmo. Un apagado previsto lo excluye. Toma la prioridad de lo que oculta.",
  },
  "node-clock-wrong": {
    title: "El reloj del nodo va mal",
    cause: "El nodo no alcanza un servidor de hora, o su reloj se puso mal.",
    consequence:
      "Las horas de los registros son dudosas; el tiempo restante y los ritmos pierden exactitud.",
    operatorAction: "Deje que el nodo alcance la hora del taller y reinícielo.",
    timeToRespond: "Dentro del día.",
    limit: "Las horas del nodo y de la pasarela no coinciden, o el nodo no tiene reloj.",
  },
  "node-config-refused": {
    title: "El nodo ha rechazado sus ajustes",
    cause:
      "Un ajuste está fuera de lo que el nodo puede hacer, o su firmware es demasiado antiguo para él.",
    consequence:
      "El nodo conserva sus ajustes anteriores: ritmo, calibración o límites pueden estar mal.",
    operatorAction: "Corrija el ajuste nombrado o actualice el nodo.",
    timeToRespond: "Dentro del día.",
    limit: "El nodo responde a los ajustes con un error.",
  },
  "node-supply-low": {
    title: "Alimentación del nodo baja",
    cause: "Un alimentador débil, un cable largo y fino, una batería casi agotada.",
    consequence:
      "Las lecturas de presión se desvían con la alimentación y después el nodo deja de dar señales.",
    operatorAction: "Cambie el alimentador, el cable o la batería.",
    timeToRespond: "Dentro del día.",
    limit: "Alimentación por debajo de 4,4 V en un nodo de 5 V, o de 3,0 V en una línea de 3,3 V.",
  },
  "nobody-reachable": {
    title: "No se puede avisar a nadie",
    cause:
      "La conexión a internet está caída, o se rechazan todas las vías hacia todos los contactos.",
    consequence: "Una alarma quedaría sin oír.",
    operatorAction: "Vigile la pantalla; restablezca la conexión, o añada un contacto y pruébelo.",
    timeToRespond: "30 min.",
    limit: "Hay mensajes esperando y fallan todas las vías hacia todos los contactos.",
  },
};
