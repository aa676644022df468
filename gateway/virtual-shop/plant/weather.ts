import { smoothNoise } from "./random.ts";

/** Air around a station. Hours are local; the plant's `utcOffsetH` places them. */
export interface WeatherConfig {
  meanC: number;
  /** Coldest to warmest of an ordinary day, K; warmest at 15:00. */
  dailySwingK: number;
  /** Irregular part, K (largest excursion). */
  wanderK: number;
  /** Warming of a hose in full sun above the air, K; 0 indoors. */
  sunHoseK: number;
  /** Warming of the regulator's body in full sun, K. */
  sunBodyK: number;
  /** Heat of full sun on the cylinder's wall, W. */
  sunCylinderW: number;
  /** Hours between which the sun can reach the station. */
  sunFromH: number;
  sunToH: number;
  altitudeM: number;
  /** Largest excursion of air pressure from the standard atmosphere, Pa. */
  pressureWanderPa: number;
  utcOffsetH: number;
}

export const mildWeather: WeatherConfig = {
  meanC: 18,
  dailySwingK: 6,
  wanderK: 1,
  sunHoseK: 0,
  sunBodyK: 0,
  sunCylinderW: 0,
  sunFromH: 9,
  sunToH: 17,
  altitudeM: 0,
  pressureWanderPa: 1200,
  utcOffsetH: 0,
};

/** Air temperature, °C, at Unix time `tS`. */
export function airC(weather: WeatherConfig, seed: number, tS: number): number {
  const hour = tS / 3600 + weather.utcOffsetH;
  return (
    weather.meanC +
    0.5 * weather.dailySwingK * Math.cos((2 * Math.PI * (hour - 15)) / 24) +
    weather.wanderK * (0.6 * smoothNoise(seed, tS, 9000) + 0.4 * smoothNoise(seed + 1, tS, 1700))
  );
}

/** Share of full sun, 0 to 1: a half sine over the hours of sun, with clouds. */
export function sunShare(weather: WeatherConfig, seed: number, tS: number): number {
  const hour = (((tS / 3600 + weather.utcOffsetH) % 24) + 24) % 24;
  if (hour <= weather.sunFromH || hour >= weather.sunToH) return 0;
  const height = Math.sin(
    (Math.PI * (hour - weather.sunFromH)) / (weather.sunToH - weather.sunFromH),
  );
  return height * (0.85 + 0.15 * smoothNoise(seed + 2, tS, 1500));
}

/** Air pressure, Pa: the standard atmosphere (ISO 2533) at that altitude, with weather. */
export function airPressurePa(weather: WeatherConfig, seed: number, tS: number): number {
  return (
    101325 * (1 - 2.25577e-5 * weather.altitudeM) ** 5.25588 +
    weather.pressureWanderPa * smoothNoise(seed + 3, tS, 65000)
  );
}
