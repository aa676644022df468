import type { explainPages as english } from "../english/explain-pages.ts";

/** Spanish: how the figures of Rack, Ledger, Look-back, Bench and Alarms come about. */
export const explainPages: typeof english = {
  rests: "Se apoya en:",
  how: {
    "rack-price": "Anotado con la botella. Leeward no lo mide ni lo consulta.",
    "rack-full":
      "Lo que contiene una botella de esta capacidad de agua con su carga, según la ecuación de estado del gas real. La botella de la reserva no se mide: se cree lo que dice su etiqueta.",
    "rack-in-store":
      "Botellas de este gas anotadas como llegadas que desde entonces no se han puesto ni devuelto. Solo es tan cierto como lo que se anota aquí.",
    "rack-lasts":
      "Cada puesto con este gas cambia su botella cuando la gasta según su costumbre, y después cada vez que se acaba una llena. Se nombra el primer cambio que no encuentra botella llena en reserva.",
    "rack-order-by":
      "Cuándo se acaba la reserva, menos los días entre pedido y entrega. Están debajo de la tabla.",
    "rack-order":
      "Cambios según la costumbre hasta que un pedido de hoy llegue y dure sus días, menos lo que hay en almacén. De un puesto cuya costumbre aún no se conoce solo cuenta el próximo cambio, si se puede prever.",
    "record-verdict":
      "Segundo a segundo se compara el caudal real con el mínimo que necesita esta soldadura. Insuficiente: todo el intervalo del 95 % quedó por debajo, o el arco ardió sin gas, 2 s seguidos. No insuficiente: todo el intervalo quedó por encima en cada segundo juzgado, y no falta ninguno. Si no, no se puede saber.",
    "record-starts":
      "Tramos con gas hacia la antorcha sin corte en el registro. Cuenta el gas, no el arco: pulsar la prueba de gas también cuenta.",
    "record-gas-on":
      "Todos los segundos en que pasaron más de 0,02 L/min hacia la antorcha. Los segundos sin registro no están.",
    "record-used":
      "Caudal real por tiempo, sumado segundo a segundo. Los límites suman los del caudal como si errara siempre igual: pecan de anchos más que de estrechos. Lo que no se registró no cuenta.",
    "record-mean": "Gas gastado entre el tiempo con gas; los límites, igual.",
    "record-lowest":
      "El segundo juzgado en que el caudal real quedó más bajo frente al mínimo de entonces. Los límites son los de ese único segundo.",
    "record-needed":
      "El borde inferior de la ventana de caudal tal como valía entonces: del procedimiento puesto o de tablas de la práctica de soldadura.",
    "record-short":
      "Segundos en que todo el intervalo del 95 % del caudal real quedó por debajo del mínimo.",
    "record-over":
      "Segundos en que todo el intervalo del 95 % del caudal real quedó por encima del máximo de esta soldadura.",
    "record-doubt":
      "Segundos en que el mínimo quedó dentro del intervalo del 95 % del caudal real: pudo bastar o no.",
    "record-enough":
      "Segundos en que todo el intervalo del 95 % del caudal real quedó por encima del mínimo.",
    "record-edge":
      "Los dos primeros segundos y el último de cada arranque, mientras el gas sube y se apaga. No se juzgan.",
    "record-no-window": "Pasó gas y no había procedimiento puesto: no había con qué compararlo.",
    "record-trust":
      "El límite de error que da la descripción del sensor, y el día de su última calibración o de la última prueba en el banco. Vencida tras el día fijado, si no tras un año (práctica habitual, sin fuente).",
    "record-no-data":
      "Segundos de los que no se guardó nada: el nodo calló o la pasarela no funcionaba. No cuentan ni como consumo ni como buenos.",
    "record-arc": "Segundos en que el sensor de arco vio un arco y no pasaba gas.",
    "record-lost":
      "La pérdida media en reposo de este tiempo, lo que pierde la botella mientras no pasa gas a la antorcha, por el tiempo registrado sin gas.",
    "record-cost":
      "Gas gastado, al precio de una carga entre lo que contiene una botella llena. La pérdida sin gas no está incluida.",
    "record-swaps":
      "Cambios vistos en el registro: la presión de la botella saltó a la de otra. Lo que contenía entonces sale de presión, temperatura y capacidad de agua.",
    "record-re-dials":
      "Giros del caudalímetro vistos en el registro: el caudal cambió con la misma presión de línea. El porcentaje es el caudal de después entre el de antes.",
    "record-alarms":
      "Alarmas vigentes en algún momento de este tiempo, según el diario de alarmas.",
    "fit-verdict":
      "Las filas se ajustan a un solo aparato con su física. Si se dispersan más de lo que permiten sus incertidumbres, con menos de una posibilidad entre cien, no pueden venir de un solo aparato (ji cuadrado).",
    "fit-residual":
      "Lo que leyó el medidor frente a lo que habría dejado pasar el aparato ajustado con la lectura y las presiones de esta fila. Debería quedar dentro de la incertidumbre de la fila.",
    "fit-parameter":
      "Mínimos cuadrados sobre todas las filas válidas, partiendo de lo usual en estos aparatos. Los límites valen al 95 %. Donde las filas no lo estrecharon, se dice.",
    "fit-gain":
      "La mitad del intervalo del 95 % del caudal de este puesto, en tanto por ciento del caudal: tal como es y como sería si solo se supiera lo impreso en el aparato.",
    "card-reading":
      "La lectura con la que el aparato ajustado deja pasar el objetivo a esta presión de botella y a temperatura ambiente.",
    "card-within":
      "Límites del 95 % del caudal real con esta lectura: de la dispersión de las filas, del medidor y de lo que el modelo deja fuera.",
    "weld-window":
      "El mínimo, el objetivo y el máximo, según proceso, tobera, material, corriente y corriente de aire, por tablas de la práctica de soldadura. «Por qué este caudal» nombra cada fuente.",
    "weld-factor":
      "Lo que el aparato deja pasar de verdad mientras marca el objetivo, entre lo que marca: por densidad, presión y temperatura del gas en el aparato frente a aquellas para las que se hizo su escala.",
    "weld-dial":
      "La lectura con la que el aparato, tal como se prueba aquí, deja pasar el objetivo.",
    "weld-time":
      "De tablas de la práctica de soldadura para este proceso y corriente. Entre paréntesis, el margen entre las fuentes.",
    "weld-exit": "El caudal objetivo entre la sección libre de la tobera, en frío, sin arco.",
    "weld-reynolds":
      "Caudal, viscosidad del gas y diámetro de la tobera. Separa un chorro tranquilo de uno turbulento, que arrastra aire.",
    "cost-counted":
      "Tramos con gas en el diario del puesto de las dos últimas semanas, entre los días que tuvieron alguno.",
    "cost-start":
      "Lo que la manguera contiene de más a la presión de reposo que con el gas pasando, según la ecuación de estado del gas real a 20 °C. Se sopla en cada arranque.",
    "cost-year": "Gas soplado en cada arranque, por arranques al día y días de trabajo al año.",
    "cost-money": "Gas al año al precio de 1 m³.",
    "cost-saves":
      "La misma cuenta con la presión de reposo más baja, restada de la de hoy; ambas con los mismos arranques.",
    "cost-post-flow":
      "Caudal objetivo por postflujo, paradas y días de trabajo al año, al precio del gas.",
    "cost-second": "Lo mismo para un segundo de postflujo.",
    "cost-break-even":
      "Cuánto más deben durar tungsteno y tobera para ahorrar lo que cuesta un segundo más de postflujo. No se sabe sin su precio, ni cuando ese segundo cuesta más que ellos.",
    "device-worst":
      "El mayor error en tamaño en todas las presiones de botella, poniendo el aparato cada vez en la marca. Caudal real frente al objetivo.",
    "device-left-alone":
      "El mayor cambio en tamaño del caudal real, si era correcto con la botella llena y nadie tocó nada desde entonces.",
    "device-ends":
      "La presión de botella por debajo de la cual el manorreductor ya no deja que el aparato dé el objetivo.",
    "device-surge":
      "Presión en reposo menos presión con el gas pasando, entre la atmosférica: litros normales que sopla cada litro de manguera en un arranque.",
    "device-idle": "La presión de línea en reposo, como se introdujo con la prueba.",
    "device-price": "Introducido con la prueba.",
    "alarms-rang":
      "Alarmas que sonaron en este tiempo, según el diario de alarmas. La que vuelve cuenta otra vez; la que explica otra, o la que solo se encontró después, no suena. Un día son 24 horas.",
    "alarms-standing":
      "Alarmas cuya causa se da en este momento, vistas o no. No depende del tiempo elegido.",
    "alarms-mean":
      "Alarmas que sonaron, entre los tramos de diez minutos del tiempo elegido. También cuentan los tranquilos. La meta es para una persona, como se suele citar de ISA-18.2; de memoria.",
    "alarms-most": "El tramo de diez minutos del reloj en que sonaron más alarmas.",
    "alarms-over-ten":
      "Tramos de diez minutos del reloj en que sonaron más de diez alarmas, entre todos los tramos del tiempo elegido. La meta se suele citar de ISA-18.2; de memoria.",
    "alarms-chattering":
      "Alarmas de un puesto y un tipo que sonaron tres veces en un minuto. Lo que cuenta como repetitiva se suele citar de ISA-18.2; de memoria.",
    "alarms-stale":
      "Alarmas activas ahora, y desde hace más de 24 horas. La meta se suele citar de ISA-18.2; de memoria.",
    "alarms-high-share":
      "Alarmas que sonaron con la prioridad 'Ahora', entre todas las que sonaron. El 5 % se refiere a todas las alarmas configuradas; hasta un 10 % de las que sonaron cuenta como cumplido, porque en un taller suenan pocas (práctica común, sin fuente).",
    "alarms-flood":
      "Una avalancha empieza cuando en diez minutos han sonado más de diez alarmas y termina cuando son menos de cinco. Se cuentan todas desde su comienzo hasta su final.",
    "alarms-place":
      "Cuántas veces sonó esta alarma de este puesto en el tiempo elegido, y su parte del total.",
  },
};
