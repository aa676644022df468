import type { DemandPhrases } from "../english/demand.ts";

/** Spanish: what the demand tables say of a weld. */
export const demand: DemandPhrases = {
  "source-modern-welding-2020": "Modern Welding, Goodheart-Willcox 2020, figura 8-35",
  "source-supplier-handbook":
    "manual para soldadores de un proveedor de gas, tabla TIG de ángulo por espesor",
  "source-beyer-2013": "Beyer y otros, Science and Technology of Welding and Joining, 2013",
  "source-bitharas-2018":
    "Bitharas y otros, Journal of Materials Processing Technology 255 (2018) 451-462",
  "source-aws-d1.1-draught":
    "AWS D1.1, límite de corriente de aire de 5 mph (cláusula citada en una página de soldadura; comprobar la edición)",
  "source-aws-d1.1-essential-flow":
    "AWS D1.1, el caudal como variable esencial: +50 % / -20 % (de memoria; comprobar la edición)",
  "source-well-mixed": "dilución bien mezclada: volúmenes = ln(oxígeno inicial / oxígeno deseado)",
  "source-api-rp-582":
    "API RP 582, límite de 0,5 % de oxígeno en la purga (de segunda mano; comprobar el documento)",
  "source-cup-numbers":
    "norma del oficio: número de tobera TIG = diámetro en dieciseisavos de pulgada (de memoria)",
  "source-helium-memory":
    "regla de manual: el helio necesita de 2 a 3 veces el caudal del argón (de memoria)",
  "source-titanium-memory":
    "regla de manual: proteger el titanio hasta que baje de unos 425 °C (de memoria)",
  "source-round-pipe":
    "límite de texto del flujo laminar en un tubo, Re 2300; una tobera corta difiere (de memoria)",
  "source-common-practice": "práctica común, sin fuente",
  "source-procedure": "el propio procedimiento de soldadura",
  "source-own-estimate": "estimación propia, sin fuente",
  "demand-from-to": "{about}: de {n1} a {n2} L/min ({source})",
  "demand-at": "{about}: {n1} L/min ({source})",
  "demand-rule":
    "{about}: unos {n1} L/min, una regla práctica ({source}); de ella no se sigue mínimo ni máximo",
  "demand-with-source": "{about} ({source})",
  "demand-cup": "tobera {n1}",
  "demand-cup-between": "tobera {n1}, entre dos filas",
  "demand-cup-rule": "{n1} CFH por cada número de tobera",
  "demand-mode": "{wprocess} en cortocircuito",
  "demand-mode-spray": "{wprocess} en arco spray",
  "demand-mode-pulsed": "{wprocess} en arco pulsado",
  "demand-mode-flux": "alambre tubular con gas",
  "demand-bore-rule": "1 L/min por cada mm de diámetro",
  "demand-wire-rule": "10 L/min por cada mm de alambre",
  "demand-thickness": "{family} hasta {n1} mm",
  "family-carbon-steel": "acero al carbono",
  "family-stainless": "acero inoxidable",
  "family-aluminium": "aluminio",
  "family-titanium": "titanio",
  "demand-still-air": "hallado sano en aire en calma",
  "demand-production": "en producción se bajó hasta aquí sin pérdida",
  "demand-helium": "{n1} % de helio: de {n2} a {n3} veces el caudal del argón ({source})",
  "demand-gas-lens": "lente de gas: de 10 a 20 % menos con la misma tobera ({source})",
  "demand-pulsed-aluminium":
    "el MIG pulsado sobre aluminio quiere al menos {n1} {wunit} ({source})",
  "demand-open-joint":
    "{joint}: el gas cae de una junta abierta, por eso sube el objetivo ({source})",
  "joint-edge": "borde",
  "joint-outside-corner": "esquina exterior",
  "joint-outside-corner-2": "esquina exterior",
  "demand-out-of-position":
    "fuera de posición ({wposition}): de {n1} a {n2} {wunit} más ({source})",
  "demand-position-unknown":
    "La posición «{wposition}» no se conoce (use nombres como PA, PF, 1G, 3G, vertical): sin suplemento.",
  "demand-above-rated":
    "{n1} A pasan de los {n2} A para los que está hecha la antorcha: use una refrigerada por agua o mayor. Más gas nunca sustituye a la corriente y el ciclo nominales.",
  "demand-hot-torch":
    "{n1} A: una antorcha refrigerada por gas dura más con más caudal por encima de {n2} A ({source}); cuánto más: {more}",
  "demand-no-answer":
    "Por encima de la corriente o el ciclo nominal de la antorcha, más gas no es la respuesta: refrigere con agua.",
  "demand-draught": "corriente de aire {n1} m/s: mínimo {n2} % más alto ({source})",
  "demand-screen":
    "una corriente de aire de {n1} m/s pasa de {n2} m/s: ponga una pantalla, más gas no ayuda ({source}); mínimo y máximo valen detrás de la pantalla",
  "demand-no-flow-right":
    "ningún caudal es correcto: tobera mayor, lente o pantalla (el mínimo {n1} está por encima del máximo {n2} L/min)",
  "demand-need-cup":
    "las tablas necesitan el número de tobera, o material y espesor, en el procedimiento",
  "demand-need-transfer":
    "las tablas necesitan el tipo de transferencia, o material y espesor, en el procedimiento",
  "demand-own": "las cifras propias del procedimiento prevalecen sobre las tablas",
  "demand-no-own-minimum":
    "el procedimiento no da objetivo, ni las tablas un mínimo acorde: indique el mínimo en el procedimiento",
  "demand-no-own-maximum":
    "el procedimiento no da objetivo, ni las tablas un máximo acorde: indique el máximo en el procedimiento",
  "demand-own-minimum":
    "mínimo: {n1} veces el objetivo del procedimiento, pues ningún mínimo de las tablas concuerda ({source})",
  "demand-own-maximum":
    "máximo: {n1} veces el objetivo del procedimiento, pues ningún máximo de las tablas concuerda ({source})",
  "demand-no-procedure": "el puesto no tiene procedimiento de soldadura",
  "demand-no-gas": "no se conoce el gas del suministro",
  "demand-active-gas":
    "Este gas contiene CO2 u oxígeno: quema el tungsteno del TIG. Compruebe la etiqueta de la botella.",
  "demand-polarity":
    "La polaridad ({wpolarity}) queda anotada; no se halló fuente que ligue el caudal a ella.",
  "nozzle-turbulent":
    "El número de Reynolds {n1} en el diámetro de {n2} mm pasa del límite de tubo de {n3}: el chorro puede volverse turbulento antes. Una observación, no un límite: una tobera corta no es un tubo largo.",
  "nozzle-standoff":
    "Una distancia de {n1} mm pasa del núcleo en calma de unos {n2} mm de una tobera sencilla: acerque la tobera o ponga una lente de gas.",
  "nozzle-standoff-lens":
    "Una distancia de {n1} mm pasa del núcleo en calma de unos {n2} mm de una lente de gas: acerque la tobera.",
  "preflow-usual": "preflujo de {n1} a {n2} s ({source})",
  "preflow-own": "preflujo del procedimiento",
  "postflow-own": "postflujo del procedimiento",
  "postflow-usual": "postflujo de {n1} a {n2} s ({source})",
  "postflow-rule": "postflujo de 1 s por cada 10 A, al menos {n1} s ({source})",
  "postflow-no-current":
    "postflujo de 1 s por cada 10 A, al menos {n1} s ({source}); no se conoce la corriente",
  "postflow-titanium":
    "titanio: mantenga gas encima hasta que baje de unos {n1} °C, con un protector de arrastre ({source})",
  "postflow-hot-torch":
    "refrigerada por gas por encima de {n1} A: un postflujo más largo cuida antorcha y tungsteno ({source}); cuánto más: {more}",
};
