/** Uniform numbers in (0, 1), the same for the same seed on every machine. */
export type RandomSource = () => number;

/**
 * Doty-Humphrey's small fast counting generator, 32 bit (PractRand's sfc32), seeded by three words; `stream` gives each
 * run of a simulation its own independent numbers. The algorithm is written from memory; tests check its moments.
 */
export function seededRandom(seed: number, stream = 0): RandomSource {
  let a = seed >>> 0;
  let b = stream >>> 0;
  let c = 0x9e3779b9;
  let counter = 1;
  const next = () => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    return sum >>> 0;
  };
  for (let warm = 0; warm < 15; warm++) next();
  return () => (next() + 0.5) / 4_294_967_296;
}

/** Time to the next event of a Poisson process, in the inverse of the rate's unit. */
export const drawExponential = (random: RandomSource, rate: number): number => -Math.log(random()) / rate;

function drawNormal(random: RandomSource): number {
  return Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random());
}

/** A gamma variate with this shape (1 or more) and mean 1, by Marsaglia & Tsang 2000. */
export function drawGammaMeanOne(random: RandomSource, shape: number): number {
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = drawNormal(random);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(random()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return (d * v) / shape;
  }
}
