import type { ConditionWords } from "./say.ts";

/** Why each alarm exists, in Spanish. */
export const spanishConditions: Readonly<Record<string, ConditionWords>> = {
  "under-shielding": {
    title: "Muy poco gas de protección",
    cause:
      "Caudal ajustado demasiado bajo o leído donde no es, presión de línea menor que la de la escala, una botella casi vacía, un manorreductor que pierde caudal o se hiela.",
    consequence:
      "El aire llega al baño de fusión: poros, oxidación, un tungsteno estropeado, trabajo repetido.",
    operatorAction:
      "Pare en cuanto pueda y ponga el caudalímetro en la lectura indicada; cambie la botella si el manorreductor ya no mantiene el caudal.",
    timeToRespond: "Antes de la próxima soldadura; en menos de 1 min.",
    limit:
      "Caudal real por debajo del mínimo de la soldadura con un 95 % de confianza, con el gas abierto. Una purga declarada lo excluye; termina con un arco, y con 15 s sin gas si alcanzó su objetivo o ya se había interrumpido.",
    deadband: "3 % del caudal mínimo.",
    delayReason:
      "Contado en segundos con gas, en varias veces, tras los primeros 2 s de cada una: un valor inicial de 15 s dura más que muchos puntos. 5 s cubren el golpe de gas de la manguera y dos paquetes del nodo. Se apaga a los 4 s con caudal suficiente; se mantiene 10 min con el gas cerrado, para que varios puntos seguidos suenen una sola vez.",
  },
  "over-flow": {
    title: "Demasiado gas de protección",
    cause:
      "Caudal ajustado demasiado alto, o subido con una botella casi vacía y no vuelto a bajar, presión de línea mayor que la de la escala.",
    consequence: "Se desperdicia gas; un chorro turbulento arrastra aire a la soldadura.",
    operatorAction: "Baje el caudalímetro a la lectura indicada.",
    timeToRespond: "Dentro del turno.",
    limit:
      "Caudal real por encima del máximo de la soldadura con un 95 % de confianza, con el gas abierto.",
    deadband: "3 % del caudal máximo.",
    delayReason:
      "Contado en segundos con gas tras los primeros 5 s de cada vez, en los que sale el golpe de gas de la manguera; 20 s porque el derroche no daña en un punto. Se mantiene 10 min con el gas cerrado.",
  },
  "arc-without-gas": {
    title: "Soldadura sin gas",
    cause:
      "Válvula de la botella cerrada, botella vacía, una válvula de gas que no abre, una manguera suelta; o un trabajo sin gas que no se declaró.",
    consequence:
      "La soldadura se hace sin protección: hay que quitarla con la amoladora y repetirla; el tungsteno y la tobera sufren.",
    operatorAction:
      "Corte el arco, abra el gas. Si el trabajo no necesita gas (electrodo, arco-aire, hilo autoprotegido), declárelo.",
    timeToRespond: "Al momento.",
    limit:
      "Arco visto mientras no pasa gas, o menos de una cuarta parte del mínimo con un 95 % de confianza; o la línea está sin presión. Solo donde hay señal de arco. Mientras no se sabe si pasa gas (recién arrancado, sin sensor de línea), se dice, con su razón.",
    deadband: "Ninguna: arco y gas están encendidos o apagados.",
    delayReason:
      "En 1 s el gas que llega con el arco o poco después se nota en la línea: el nodo envía esa lectura al momento y, si la línea baja, se espera a la siguiente. Cada segundo más se suelda sin protección. El gas que se corta bajo el arco cuenta desde que la línea empezó a mostrarlo, en cuanto llega a mitad de camino de su reposo; una línea que pierde su presión, y una manguera que se llena o se vacía bajo el arco, tienen que durar 0,5 s. Se apaga a los 3 s, para que un arco que parpadea suene una sola vez.",
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
    deadband: "Probabilidad de nuevo bajo 1 %.",
    delayReason:
      "20 s: un golpe corto de caudal alto (una purga de la línea) acorta el tiempo restante solo mientras dura; frente a un cambio de botella de minutos no cuesta nada. Se apaga a los 5 s: una botella nueva se ve con claridad.",
  },
  "cylinder-low": {
    title: "Queda poco gas en la botella",
    cause: "Queda una cuarta parte del contenido, o menos que el consumo de un día.",
    consequence: "Sin una botella llena en el almacén, el trabajo se para cuando esta se acabe.",
    operatorAction: "Tenga una llena preparada o pídala.",
    timeToRespond: "Dentro del día.",
    limit:
      "Contenido por debajo del 25 %, o del consumo de un día (como mucho media botella), con un 80 % de confianza.",
    deadband: "3 % de la botella llena.",
    delayReason:
      "120 s: tras un uso intenso el contenido se asienta mientras el gas vuelve a calentarse, y un pedido no es cosa de segundos.",
  },
  "cylinder-empty": {
    title: "Botella vacía",
    cause: "La presión de la botella está por debajo de la residual que debe quedar en ella.",
    consequence:
      "El manorreductor ya no mantiene el caudal; por debajo de la presión atmosférica entran aire y humedad.",
    operatorAction: "Pare, cierre la válvula de la botella y cambie la botella.",
    timeToRespond: "Ahora, antes de la próxima soldadura.",
    limit:
      "Presión de la botella por debajo de la residual con un 80 % de confianza, y el contenido coincide. Una botella cerrada con la línea descargada no cuenta como vacía.",
    deadband: "1,5 bar.",
    delayReason:
      "20 s: al purgar el lado de alta tras cerrar la válvula se pasa por las mismas presiones en pocos segundos; una botella de 50 L a 10 bar aún alimenta una antorcha muchos minutos.",
  },
  "reserve-in-use": {
    title: "Reserva en uso",
    cause: "El lado principal está vacío o cerrado y el inversor ha pasado a la reserva.",
    consequence:
      "Cuando también se acabe la reserva, se paran todos los puestos de este suministro.",
    operatorAction: "Cambie el lado vacío y devuelva el inversor a su posición si se hace a mano.",
    timeToRespond: "Dentro del turno.",
    limit: "El lado de reserva alimenta el suministro.",
    deadband: "Ninguna: un lado alimenta o no.",
    delayReason:
      "10 s cubren el momento en que alimentan ambos lados; se apaga a los 60 s, para que una conmutación que va y viene suene una sola vez.",
  },
  "trapped-line-pressure": {
    title: "Ha quedado presión en la línea",
    cause:
      "Se cerró la válvula de la botella sin descargar la línea, o el sol o un taller caliente calientan una línea cerrada.",
    consequence:
      "Manguera, manómetro y manorreductor siguen cargados; el calor sube más la presión, y un racor abierto bajo presión puede herir.",
    operatorAction:
      "Cierre la válvula de la botella; descargue la línea a 0 con la prueba de gas o el botón de purga, nunca con el gatillo con la fuente de corriente encendida; afloje el tornillo de regulación.",
    timeToRespond: "Antes de irse; en menos de 30 min donde el calor la lleva al límite.",
    limit:
      "Válvula de la botella cerrada con más de 0,3 bar en la línea; o la previsión para la hora más calurosa del día, solo por el calor, llega al 90 % del límite de la línea; o su tendencia llega en 30 min.",
    deadband: "0,1 bar de presión de línea; 5 % del límite de la línea.",
    delayReason:
      "10 min para una línea que solo está cerrada: la válvula se cierra a menudo en una pausa corta y la línea se purga al irse. 2 min donde el calor se acerca al límite, 20 s donde la subida lo alcanza en 30 min. Se apaga 10 s después de purgar.",
  },
  "line-pressure-high": {
    title: "Presión de línea cerca del límite",
    cause:
      "Un asiento que pierde, un manorreductor ajustado demasiado alto, calor sobre una línea cerrada, o nieve de CO2 que pasa a gas.",
    consequence:
      "Puede reventar una manguera, un manómetro o un manorreductor; puede abrirse un dispositivo de alivio.",
    operatorAction:
      "Apártese, cierre la válvula de la botella y descargue la línea con la prueba de gas o el botón de purga, nunca con el gatillo con la fuente de corriente encendida.",
    timeToRespond: "En menos de 10 min; al momento donde se ha llegado al límite.",
    limit:
      "Presión de línea al 95 % de la mayor que pueden soportar manorreductor, manguera y antorcha; o en camino de llegar en 20 min con un 95 % de confianza de que sube, sea por lo que sea (desde 120 s después de cerrar el gas).",
    deadband: "5 % del límite.",
    delayReason:
      "2 s en el límite: un golpe al cerrar la válvula de la antorcha es más corto. 30 s para una subida, que ya es una media de minutos. Se apaga tras 30 s por debajo.",
  },
  "regulator-creep": {
    title: "El manorreductor deja pasar gas",
    cause:
      "Un asiento sucio o gastado que deja pasar gas con la antorcha cerrada, o nieve de CO2 en un manorreductor frío que pasa a gas.",
    consequence:
      "La presión de línea sube hasta su límite o hasta la de la botella: puede reventar la manguera o el manómetro.",
    operatorAction:
      "Cierre la válvula de la botella y descargue la línea con la prueba de gas o el botón de purga, nunca con el gatillo con la fuente de corriente encendida; si la presión vuelve a subir con la válvula cerrada, retire el manorreductor del servicio.",
    timeToRespond: "Dentro de la hora; en menos de 10 min donde la tendencia llega al límite.",
    limit:
      "La presión de la línea en reposo sube 0,005 bar/min más deprisa de lo que explica el calor, con un 95 % de confianza, desde 120 s después de cerrar el gas. De día, el sol sobre la manguera puede explicar 60 K por hora. Mientras un cuerpo frío se deshiela, solo por encima de los dos límites del calor; si estuvo a menos de -8 °C, además solo por encima de la presión en la que la línea quedaba en reposo antes del frío. Sin sonda en el cuerpo su frío se calcula por el gas que pasó, más bien de más; donde pudo estar a menos de -8 °C, no se concluye nada durante los 30 min siguientes.",
    deadband: "La subida debe caber en lo que explica el calor.",
    delayReason:
      "Se dejan fuera 120 s del cierre, luego 90 s de subida constante, de modo que 0,05 bar/min se hallan en 5 min de reposo; 15 min para una subida menor de 0,02 bar/min, que puede ser el final del cierre; 20 s donde el límite está a menos de 30 min. Se apaga tras 10 min de línea quieta: un asiento que aguanta un momento no está reparado.",
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
      "Más de un 30 % de probabilidad de que el suministro baje un 5 % con el caudal actual, con el cuerpo previsto por debajo de -8 °C o cerca de donde este manorreductor ya falló una vez; o, donde solo se conoce la temperatura del cuerpo, una previsión por debajo de 0 °C. Alta en cuanto la presión de línea está un 3 % por debajo de la que daba con el cuerpo sobre 0 °C y la presión de la botella no lo explica.",
    deadband: "Probabilidad de nuevo bajo 10 %; 3 K de la previsión.",
    delayReason:
      "20 s: el cuerpo se enfría en minutos, y una previsión con una sola lectura es poco fiable. Se apaga a los 120 s, pues el cuerpo sigue frío cuando cesa el caudal.",
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
    deadband: "8 % de la presión habitual.",
    delayReason:
      "8 s de gas, contados en varias veces y tras los primeros 3 s de cada una: la manguera necesita un momento, una tobera no se limpia sola. Se mantiene 10 min con el gas cerrado.",
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
      "Pérdida mayor de 0,02 L/min con un 99 % de confianza mientras no pasa nada. Urgente donde el local, con el aire bien mezclado, podría bajar al 19,5 % de oxígeno o llegar al 0,5 % o al 3 % de CO2, o donde el lugar es un espacio confinado; de un suministro para varios puestos cuenta el peor.",
    deadband: "De más de 0,02 L/min a una media por debajo.",
    delayReason:
      "5 min: la pérdida ya es una media de horas, y un cambio de tiempo no debe dar alarma. Se apaga a los 10 min, pues la cifra se mueve despacio.",
  },
  "gas-left-on": {
    title: "Gas dejado abierto",
    cause:
      "Una purga olvidada, una válvula de antorcha abierta, una prueba de gas que se quedó enganchada.",
    consequence:
      "La botella se vacía para nada; en un local pequeño o confinado el gas desplaza el aire.",
    operatorAction:
      "Cierre la válvula de la antorcha o declare la purga; si una declarada sigue: pregunte si aún hace falta. Donde el aire está en peligro: ventile.",
    timeToRespond: "15 min; al momento donde el aire del local está en peligro.",
    limit:
      "Gas abierto 20 min sin arco, más de lo habitual en este puesto y a esta hora: donde nadie suelda nunca a esta hora, 20 min en total. Un arco lo excluye, y una purga declarada también, hasta que dura el doble de lo declarado y 30 min más (sin objetivo: 20 min más de lo habitual), en minutos o en volúmenes con su propio caudal. Urgente donde el local, con el aire bien mezclado, podría bajar en 30 min al 19,5 % de oxígeno o llegar al 0,5 % o al 3 % de CO2: tras 5 min; y donde el lugar es un espacio confinado: con señal de arco tras 1 min sin arco, si no tras una vez y media lo que duran aquí 99 de cada 100 soldaduras, 1 min como mínimo y 5 min como máximo (3 min mientras no se sepa); tras 1 min dondequiera que un límite esté a menos de 3 min. Un límite a menos de 30 min se avisa también durante una purga declarada.",
    deadband: "Ninguna: el gas está abierto o cerrado.",
    delayReason:
      "Los 20 min son el propio límite, para que la costumbre del puesto pueda alargarlo; los 10 s solo cubren una lectura que llega tarde. En un espacio confinado no se espera más de lo que dura allí una soldadura: quien está dentro respira lo que suelta la antorcha, y salir lleva minutos.",
  },
  "reading-shift": {
    title: "El ajuste de caudal se ha movido",
    cause:
      "El caudalímetro se movió o recibió un golpe, se comporta de otro modo, o se subió con una botella casi vacía y no se volvió a bajar.",
    consequence:
      "La próxima soldadura recibe demasiado o muy poco gas; con una botella llena, muchísimo.",
    operatorAction: "Ponga el caudalímetro en la lectura indicada antes de la próxima soldadura.",
    timeToRespond: "Antes de la próxima soldadura.",
    limit:
      "Tras moverse: caudal real a más de un 15 % del objetivo y más lejos que antes, con un 95 % de confianza. Tras un cambio de botella o cuando la línea se recupera, si antes se había subido: la próxima apertura daría un 15 % más que el objetivo, con un 90 % de confianza.",
    deadband: "De un 15 % de desvío a un 10 %.",
    delayReason:
      "30 s: al ajustar se pasa por lecturas falsas camino de la buena, y lo que cambió un cambio de botella o un giro es incierto al principio. Se apaga a los 5 s en la buena; se mantiene 4 h mientras no sea ni buena ni nueva, para que varias soldaduras seguidas suenen una sola vez.",
  },
  "wrong-gas": {
    title: "Gas equivocado",
    cause:
      "Se puso una botella de otro gas, la etiqueta o la configuración están mal, o la configuración no va con el proceso.",
    consequence:
      "Soldaduras estropeadas, un tungsteno quemado; todos los caudales del puesto son erróneos.",
    operatorAction:
      "Pare y lea la etiqueta de la botella: vale la etiqueta, no el color. Corrija la configuración o cambie la botella.",
    timeToRespond: "Antes de la próxima soldadura.",
    limit:
      "Un 95 % de probabilidad de que el gas no se comporte como dice su etiqueta; o un gas en la configuración que no va con el proceso.",
    deadband: "Probabilidad de nuevo bajo 50 %.",
    delayReason:
      "60 s: un gas equivocado parece al principio un caudal equivocado, y solo varias lecturas a más de una presión los distinguen.",
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
      "El nodo o la estimación comunica un fallo de un canal, o el nodo de la botella de un suministro común no da señales. Prioridad media si es una presión.",
    deadband: "Ninguna: un canal falla o no.",
    delayReason:
      "2 s: un conector que se quita y se pone no es un fallo; cortes y cortocircuitos deben verse en 5 s. Se apaga a los 60 s, pues un mal conector va y viene.",
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
    deadband: "Ninguna: una fecha ha pasado o no.",
    delayReason: "Sin retardo: una fecha no oscila.",
  },
  "node-silent": {
    title: "El nodo no da señales",
    cause: "Sin corriente, sin red, o el nodo ha fallado.",
    consequence: "Todos los valores del puesto son antiguos; ninguna otra alarma se puede juzgar.",
    operatorAction:
      "Revise la alimentación y la red del nodo. Entretanto guíese por los manómetros.",
    timeToRespond: "15 min.",
    limit:
      "El bróker comunica que el nodo del puesto se ha desconectado, o no llega ningún paquete suyo en tres veces su ritmo, digan lo que digan otros nodos del mismo suministro. Un apagado previsto lo excluye hasta diez minutos después de su fin: un nodo que para entonces no ha vuelto avisa. Cuando la pasarela arranca, o su equipo despierta, cada nodo tiene tres minutos para hacerse oír. Toma la prioridad de lo que oculta.",
    deadband: "Ninguna: los paquetes llegan o no.",
    delayReason:
      "Sin retardo: el triple del ritmo ya es el retardo, y el aviso de desconexión del bróker es seguro. En los diez minutos tras un apagado previsto arrancan el nodo y la red. Se apaga a los 10 s, para que un nodo que cae una y otra vez suene una sola vez.",
  },
  "node-clock-wrong": {
    title: "El reloj del nodo va mal",
    cause:
      "El nodo no alcanza un servidor de hora, o su reloj se puso mal. Si lo dicen varios nodos a la vez, es el reloj del gateway el que va mal.",
    consequence:
      "Las horas de los registros son dudosas; el tiempo restante y los ritmos pierden exactitud. Si adelanta más de 5 min, las lecturas del nodo se rechazan: todos los valores del puesto son antiguos y ninguna otra alarma se puede juzgar.",
    operatorAction:
      "Haga que el nodo reciba la hora del taller y reinícielo. Si se rechazan sus lecturas, guíese entretanto por los manómetros.",
    timeToRespond: "Dentro del día; 15 min si se rechazan sus lecturas.",
    limit:
      "Las horas del nodo y del gateway no coinciden, o el nodo no tiene reloj. Va atrasado si durante 3 min sus paquetes llegan con el mismo retraso, de más de 2 min, al ritmo en que se hacen; desde entonces sus horas se corrigen en eso, para que sus alarmas suenen. Lo que esperó a la red llega más deprisa de lo que se hizo y no es un reloj malo. Si adelanta más de 5 min, sus lecturas se rechazan: entonces prioridad media, o la de lo que oculta, y explica el silencio que sigue: al nodo se le oye, y buscar el fallo en la corriente o la red sería en vano.",
    deadband: "Ninguna: el gateway juzga la diferencia.",
    delayReason:
      "180 s: tras un arranque el nodo necesita uno o dos de los mensajes de hora de cada minuto. Sin retardo si se rechazan sus lecturas: la hora que llevan es la prueba. Se apaga a los 60 s, para que un reloj que se pone una y otra vez suene una sola vez.",
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
    deadband: "Ninguna: se rechaza o no.",
    delayReason: "5 s: si le sigue enseguida un ajuste corregido, desaparece.",
  },
  "node-supply-low": {
    title: "Alimentación del nodo baja",
    cause: "Un alimentador débil, un cable largo y fino, una batería casi agotada.",
    consequence:
      "Las lecturas de presión se desvían con la alimentación y después el nodo deja de dar señales.",
    operatorAction: "Cambie el alimentador, el cable o la batería.",
    timeToRespond: "Dentro del día.",
    limit:
      "Alimentación por debajo de 4,4 V en un nodo de 5 V, o de 3,0 V en una alimentación de 3,3 V.",
    deadband: "0,1 V.",
    delayReason:
      "60 s: las ráfagas de radio bajan la tensión un momento; el valor llega una vez por paquete.",
  },
  "nobody-reachable": {
    title: "No se puede avisar a nadie",
    cause:
      "La conexión a internet está caída, o se rechazan todas las vías hacia todos los contactos; o ningún paso ni resumen nombra a nadie para una alarma que suena.",
    consequence: "Una alarma quedaría sin oír.",
    operatorAction:
      "Vigile la pantalla; restablezca la conexión, o añada un contacto y pruébelo. Nombre a alguien para cada alarma.",
    timeToRespond: "30 min.",
    limit:
      "Hay mensajes esperando y fallan todas las vías hacia todos los contactos; o ya hay contactos y suena una alarma de prioridad alta o media que ningún paso ni resumen lleva a nadie (correo, notificación o webhook).",
    deadband:
      "Un mensaje que llega la termina; si una alarma no va a nadie, termina cuando alguien la reconoce, cesa o se nombra a alguien para ella.",
    delayReason:
      "120 s: antes van varios intentos con pausas crecientes, para que un router que se reinicia no dé alarma. Ninguna si una alarma no va a nadie: esperar no cambia nada.",
  },
};
