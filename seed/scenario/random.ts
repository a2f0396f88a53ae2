/** A seeded stream of numbers (mulberry32, public domain): the demo is the same each time. */
export class Dice {
  private state: number;

  constructor(seed: number) {
    this.state = seed >>> 0;
  }

  /** 0 up to, not including, 1. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let t = this.state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  }

  /** A whole number from `low` to `high`, both included. */
  between(low: number, high: number): number {
    return low + Math.floor(this.next() * (high - low + 1));
  }

  pick<T>(choices: readonly T[]): T {
    const chosen = choices[Math.floor(this.next() * choices.length)];
    if (chosen === undefined) throw new Error('There is nothing to choose from.');
    return chosen;
  }

  /** One of the choices, as likely as its share. */
  weighted<T extends { share: number }>(choices: readonly T[]): T {
    let left = this.next() * choices.reduce((sum, { share }) => sum + share, 0);
    for (const choice of choices) {
      left -= choice.share;
      if (left <= 0) return choice;
    }
    return this.pick(choices);
  }

  /** A value around a mean, spread as the sum of three dice: no wild outliers. */
  around(mean: number, relativeSpread: number): number {
    const z = (this.next() + this.next() + this.next()) * 2 - 3;
    return mean * (1 + z * relativeSpread);
  }
}
