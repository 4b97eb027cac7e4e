/**
 * Speed of sound in air in m/s at `temperatureC` (°C).
 *
 * c = 343.2·√(T / 293.15 K), ISO 9613-1:1993, A.5 (dry-air part; humidity changes it by less than 0.4 %).
 */
export function speedOfSound(temperatureC: number): number {
  return 343.2 * Math.sqrt((temperatureC + 273.15) / 293.15);
}
