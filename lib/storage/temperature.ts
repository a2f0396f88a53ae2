import { say } from '@/lib/platform/words/say';
import type { TemperatureUnit } from './schema';

const absoluteZeroC = -273.15;

/** Degrees Celsius from a figure in °C, °F or K; null below absolute zero. */
export function convertToCelsius(value: number, unit: TemperatureUnit): number | null {
  const celsius = unit === 'C' ? value : unit === 'F' ? ((value - 32) * 5) / 9 : value + absoluteZeroC;
  return Number.isFinite(celsius) && celsius >= absoluteZeroC ? celsius : null;
}

/** ΔH/R in kelvin with the customary ΔH = 83.144 kJ/mol (United States Pharmacopeia). */
const activationK = 10_000;

/** Running mean kinetic temperature: readings at equal intervals go in one by one, nothing is kept. */
export class KineticMean {
  private sum = 0;
  private count = 0;
  /** The sum is scaled by the warmest reading so far, or a cryostore's terms would vanish. */
  private warmestK = 0;

  add(temperatureC: number): void {
    const kelvin = temperatureC - absoluteZeroC;
    if (kelvin <= 0) return;
    if (kelvin > this.warmestK) {
      if (this.warmestK > 0) this.sum *= Math.exp(activationK / kelvin - activationK / this.warmestK);
      this.warmestK = kelvin;
    }
    this.sum += Math.exp(activationK / this.warmestK - activationK / kelvin);
    this.count += 1;
  }

  /** Degrees Celsius; null without readings. */
  value(): number | null {
    if (this.count === 0) return null;
    const kelvin = activationK / (activationK / this.warmestK - Math.log(this.sum / this.count));
    return kelvin + absoluteZeroC;
  }
}

/** Mean kinetic temperature in °C of readings at equal intervals (USP); null without readings. */
export function computeMeanKineticTemperature(readingsC: Iterable<number>): number | null {
  const mean = new KineticMean();
  for (const reading of readingsC) mean.add(reading);
  return mean.value();
}

/**
 * Whether a mean kinetic temperature says anything of a store set to this temperature. It weighs readings by
 * the rate of a chemical reaction in a product near room temperature; frozen tissue fails by thawing instead.
 */
export function judgeKineticMean(targetTemperatureC: number | null): {
  isMeaningful: boolean;
  remark: string;
} {
  if (targetTemperatureC === null) {
    return { isMeaningful: false, remark: say('The target temperature of this store is not known.') };
  }
  if (targetTemperatureC >= 0) {
    return { isMeaningful: true, remark: say('One figure for warmth over time in a store above freezing.') };
  }
  return {
    isMeaningful: false,
    remark:
      say('A mean kinetic temperature means nothing for a frozen store: one warm hour decides it. ') +
      say('Go by the time above the threshold and by the thaw counts.'),
  };
}
