/** Reasons of the core in Spanish, by their English text; `{}` stands for a value. */
export const spanishReasons: Readonly<Record<string, string>> = {
  "the cylinder was not idle for long enough yet":
    "la botella aún no ha estado bastante tiempo en reposo",
  "the restriction's conductance is not learnt yet: gas has to flow for some minutes":
    "la restricción aún no está aprendida: tiene que pasar gas unos minutos",
  "no pressure has been read yet with the cylinder valve open":
    "aún no se ha medido ninguna presión con la válvula de la botella abierta",
  "the cylinder's pressure sensor is in fault ({}): held from its last good reading":
    "el sensor de presión de la botella está averiado ({}): mantenido desde su última lectura buena",
  "told as full, but it was fitted at {} bar: the content follows the pressure":
    "se dijo que estaba llena, pero se montó con {} bar: el contenido sigue a la presión",
  "told to hold more than it was fitted with: the content follows the pressure":
    "se dijo que contenía más de lo que tenía al montarla: el contenido sigue a la presión",
  "the described water volume is doubted: at the known flow the pressure falls like that of about {} L":
    "el volumen de agua descrito es dudoso: con el caudal conocido la presión cae como la de unos {} L",
  "the pressure does not fall as flow setting and water volume say: the setting is doubted, or the cylinder is of another size":
    "la presión no cae como dicen el ajuste y el volumen de agua: el ajuste es dudoso, o la botella es de otro tamaño",
  "no word from the cylinder's node: held from its last reading":
    "el nodo de la botella no da señales: mantenido desde su última lectura",
  "no data: held from the last reading": "sin datos: mantenido desde la última lectura",
  "the reserve feeds: this is what is left on the main side":
    "alimenta la reserva: esto es lo que queda en el lado principal",
  "the reserve feeds: what is left in it is not measured":
    "alimenta la reserva: no se mide lo que queda en ella",
  "no cylinder pressure is read: held from the last reading":
    "no se mide la presión de la botella: mantenido desde la última lectura",
  "{} draws from the same supply at the same times: the two flows cannot be told apart well":
    "{} toma del mismo suministro al mismo tiempo: los dos caudales no se distinguen bien",
  "that gas flows rests on the arc: the cylinder's pressure has not shown it yet":
    "que pasa gas lo dice el arco: la presión de la botella aún no lo ha mostrado",
  "{} draws from the same supply and nobody sees when: this flow cannot be learnt from the cylinder":
    "{} toma del mismo suministro y nadie ve cuándo: este caudal no se puede aprender de la botella",
  "neither a line sensor nor an arc signal tells when gas flows here, and others draw from the same supply":
    "ni un sensor de línea ni una señal de arco dicen aquí cuándo pasa gas, y otros toman del mismo suministro",
  "the cylinder sensor tells its pressure in coarse steps, and no line sensor tells when gas flows: this flow cannot be learnt":
    "el sensor de la botella da su presión en escalones gruesos y ningún sensor de línea dice cuándo pasa gas: este caudal no se puede aprender",
  "the cylinder sensor tells its pressure in coarse steps, and no line sensor or arc signal tells when gas flows here":
    "el sensor de la botella da su presión en escalones gruesos, y ni un sensor de línea ni una señal de arco dicen aquí cuándo pasa gas",
  "neither line nor cylinder pressure is read: whether gas flows cannot be told":
    "no se mide ni la presión de línea ni la de la botella: no se puede decir si pasa gas",
  "just started: whether gas flows cannot be told yet":
    "acaba de arrancar: aún no se puede decir si pasa gas",
  "neither line pressure nor delivery pressure is known":
    "no se conoce ni la presión de línea ni la de salida",
  "the line pressure is not known: its sensor is out ({})":
    "no se conoce la presión de línea: falta su sensor ({})",
  "the station has no flow device": "el puesto no tiene caudalímetro",
  "the flow is not known yet": "aún no se conoce el caudal",
  "the flow is not known": "no se conoce el caudal",
  "no data": "sin datos",
  "the station has no target flow": "el puesto no tiene caudal objetivo",
  "the device has no scale": "el aparato no tiene escala",
  "the target cannot be reached within the scale: change the cylinder or the device":
    "el objetivo no se alcanza dentro de la escala: cambie la botella o el aparato",
  "the usual hose pressure at this flow is not learnt yet":
    "aún no se ha aprendido la presión de manguera habitual con este caudal",
  "the set-up gives no date: neither of a bench test nor of the sensors' calibration":
    "la configuración no da fecha: ni de una prueba en el banco ni de la calibración de los sensores",
  "the set-up gives no highest line pressure (regulator.maxLineBar)":
    "la configuración no da la presión de línea máxima (regulator.maxLineBar)",
  "the regulator may still be thawing after a cold run: the rise may be warming gas, CO2 snow or a leaking seat":
    "el manorreductor quizá aún se deshiele tras trabajar en frío: la subida puede ser gas que se calienta, nieve de CO2 o un asiento que pierde",
  "an arc is seen, but whether gas flows is not known: just started, no line sensor, or its flow not learnt yet":
    "se ve un arco, pero no se sabe si pasa gas: recién arrancado, sin sensor de línea o con el caudal aún sin aprender",
  "the temperature of the regulator's body is not known: no probe on it, or too few readings":
    "no se conoce la temperatura del manorreductor: sin sonda, o muy pocas lecturas",
  "nothing was seen yet that tells gases apart: the flow is not learnt, and the cylinder has not stood idle through a change of temperature":
    "aún no se ha visto nada que distinga los gases: el caudal no está aprendido y la botella no ha estado en reposo durante un cambio de temperatura",
  "the station has no welding procedure": "el puesto no tiene trabajo de soldadura",
  "the gas of the station's supply is not known": "no se conoce el gas del suministro",
  "the tables need the cup number, or material and thickness in the procedure":
    "las tablas necesitan el número de tobera, o material y espesor, en el trabajo",
  "the tables need transfer (short-circuit, spray, pulsed), or material and thickness in the procedure":
    "las tablas necesitan la transferencia, o material y espesor, en el trabajo",
  "AWS D1.1, draught limit of 5 mph (clause quoted on a welding site; check the edition)":
    "AWS D1.1, límite de corriente de aire de 5 mph (cláusula citada en una página de soldadura; comprobar la edición)",
  "common practice, no source": "práctica común, sin fuente",
  "a draught of {} m/s is above {} m/s: put up a screen, more gas does not help ({}); minimum and maximum hold behind the screen":
    "una corriente de aire de {} m/s pasa de {} m/s: ponga una pantalla, más gas no ayuda ({}); mínimo y máximo valen detrás de la pantalla",
  "no flow is right: larger cup, lens or screen (minimum {} is above maximum {} L/min)":
    "ningún caudal es correcto: tobera mayor, lente o pantalla (el mínimo {} está por encima del máximo {} L/min)",
  "the procedure gives no target, and the tables no minimum that agrees with it: state the minimum in the procedure":
    "el procedimiento no da objetivo, ni las tablas un mínimo acorde: indique el mínimo en el procedimiento",
  "the procedure gives no target, and the tables no maximum that agrees with it: state the maximum in the procedure":
    "el procedimiento no da objetivo, ni las tablas un máximo acorde: indique el máximo en el procedimiento",

  // What a gas behaves like.
  argon: "argón",
  "argon with {} % CO2": "argón con {} % de CO2",
  "argon with helium": "argón con helio",
  helium: "helio",
  nitrogen: "nitrógeno",

  // Why a node refuses its settings.
  "{} is not a number": "{} no es un número",
  "{} must lie between {} and {}": "{} debe estar entre {} y {}",
  "{} must be true or false": "{} debe ser true o false",
  "{} must be an object": "{} debe ser un objeto",
  "{} is too close to lowIsPa: calibrate over a fifth of the range":
    "{} está demasiado cerca de lowIsPa: calibre sobre un quinto del rango",
  "{} differs by more than a fifth from highIsPa": "{} se aparta más de un quinto de highIsPa",
  "{} must be at least 5 kg above lowIsKg": "{} debe estar al menos 5 kg por encima de lowIsKg",
  "{} is too close to lowReads: does the scale see the load?":
    "{} está demasiado cerca de lowReads: ¿nota la báscula la carga?",
  "{} is missing": "falta {}",
  "{} must be greater than lineLeastPa": "{} debe ser mayor que lineLeastPa",
  "not JSON: {}": "no es JSON: {}",
  "not an object": "no es un objeto",
  "longer than 4096 bytes": "más de 4096 bytes",
  "revision {} cut the node off and was taken back":
    "la revisión {} dejó al nodo sin conexión y se retiró",
};
