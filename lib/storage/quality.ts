import { say } from '@/lib/platform/words/say';
import type { PreservationKind } from './schema';

type KeptAt = {
  kind: PreservationKind;
  /** Where the vial is kept, in °C; null: not recorded. */
  temperatureC: number | null;
};

export type QualityFacts = {
  /** Whether the animal was alive or fresh when sampled, or found dead; null: not recorded. */
  origin: 'live' | 'fresh' | 'salvaged' | null;
  preservation: KeptAt;
  /** Total yield in µg; null: not measured. */
  dnaYieldUg: number | null;
};

export type QualityClass = {
  /** 4 best; null: cannot be classed. */
  stars: 1 | 2 | 3 | 4 | null;
  /** Why, in words, with what held it back. */
  reason: string;
  /** A measurement could still lower it. */
  isProvisional: boolean;
};

type Limit = { stars: 1 | 2 | 3 | 4; because: string };

/**
 * Quality class after Wong et al. 2012, GigaScience 1:8, Table 1:
 * 4 live or fresh, −130 °C or colder (or RNA stabiliser); 3 fresh, −80 °C; 2 salvaged, −20 °C, over 700 µg DNA;
 * 1 salvaged, ethanol, 700 µg or less.
 *
 * The printed bands overlap ("≥ −80 °C" takes in −20 °C) and leave −130 to −80 °C open. Our choice: origin, storage
 * and yield each allow a highest class, and the lowest of them counts. Storage allows 4 at −130 °C or colder, 3
 * above that while colder than −20 °C, 2 from −20 °C while still frozen. Salvaged birds are capped at 2 (our
 * reading). DMSO and salt and dry tissue are not in the table; they are read as ethanol is. The yield decides only
 * between 2 and 1, as printed.
 */
export function classifyQuality(facts: QualityFacts): QualityClass {
  const unclassed = (reason: string): QualityClass => ({ stars: null, reason, isProvisional: false });
  if (facts.origin === null)
    return unclassed(say('Not classed: whether it was fresh or salvaged is not recorded.'));
  const storage = limitByStorage(facts.preservation);
  if (typeof storage === 'string') return unclassed(storage);
  const origin: Limit =
    facts.origin === 'salvaged'
      ? { stars: 2, because: say('the bird was salvaged, which allows 2 at most') }
      : {
          stars: 4,
          because: say('the tissue was taken {x}', {
            x: facts.origin === 'live' ? say('from a live bird') : say('fresh'),
          }),
        };
  const limits = [origin, storage];
  const before = Math.min(origin.stars, storage.stars);
  if (before === 2 && facts.dnaYieldUg !== null) limits.push(limitByYield(facts.dnaYieldUg));
  const isProvisional = before === 2 && facts.dnaYieldUg === null;
  const stars = Math.min(...limits.map((limit) => limit.stars)) as 1 | 2 | 3 | 4;
  const held = limits.filter((limit) => limit.stars === stars).map((limit) => limit.because);
  const open = isProvisional
    ? say(' The yield is not measured: 700 µg of DNA or less would make it class 1.')
    : '';
  return {
    stars,
    reason: say('Class {stars}: {held}.{open}', { stars, held: held.join('; '), open }),
    isProvisional,
  };
}

function limitByStorage({ kind, temperatureC }: KeptAt): Limit | string {
  switch (kind) {
    case 'rna-stabiliser':
      return { stars: 4, because: say('RNA stabiliser counts as the coldest storage') };
    case 'liquid-nitrogen':
      return limitByTemperature(temperatureC ?? -196);
    case 'ethanol':
      return { stars: 1, because: say('ethanol stands in the lowest class of the table') };
    case 'dmso-salt':
      return { stars: 1, because: say('DMSO and salt are not in the table and are read as ethanol is') };
    case 'dry':
      return { stars: 1, because: say('dry tissue is not in the table and is read as ethanol is') };
    case 'frozen':
      if (temperatureC === null) return say('Not classed: the temperature of storage is not recorded.');
      return limitByTemperature(temperatureC);
  }
}

function limitByTemperature(temperatureC: number): Limit | string {
  if (temperatureC > 0) return say('Not classed: {temperatureC} °C is not frozen.', { temperatureC });
  if (temperatureC <= -130)
    return { stars: 4, because: say('kept at {temperatureC} °C (−130 °C or colder)', { temperatureC }) };
  if (temperatureC < -20)
    return { stars: 3, because: say('kept at {temperatureC} °C (colder than −20 °C)', { temperatureC }) };
  return { stars: 2, because: say('kept at {temperatureC} °C (−20 °C or warmer)', { temperatureC }) };
}

function limitByYield(dnaYieldUg: number): Limit {
  return dnaYieldUg > 700
    ? { stars: 2, because: say('a yield of {dnaYieldUg} µg (over 700 µg)', { dnaYieldUg }) }
    : { stars: 1, because: say('a yield of {dnaYieldUg} µg (700 µg or less)', { dnaYieldUg }) };
}
