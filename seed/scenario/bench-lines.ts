import type { Dice } from './random';
import type { Story } from './stories';

const one = (value: number): string => value.toFixed(1);
const half = (value: number): string => (Math.round(value * 2) / 2).toString();

/** What the preparator of a demo bird says at the bench, line by line, to be read by the dictation. */
export function sayBenchLines(story: Story, dice: Dice): string[] {
  const { species } = story;
  const female = dice.next() < 0.5;
  const size = female ? 0.985 : 1.015;
  const lines = [
    `mass ${one(dice.around(species.massG, 0.07))}`,
    `wing ${half(dice.around(species.wingMm * size, 0.025))} tail ${half(dice.around(species.tailMm * size, 0.03))}`,
    `tarsus ${one(dice.around(species.tarsusMm, 0.03))} culmen ${one(dice.around(species.culmenMm, 0.04))}`,
  ];
  const breeding = ['04', '05', '06'].includes(story.foundOn.slice(5, 7));
  const grown = breeding ? 1 : 0.35;
  const length = Math.max(1.2, dice.around(Math.cbrt(species.massG) * 2.1 * grown, 0.15));
  lines.push(
    female
      ? `ovary ${one(length)} by ${one(length * 0.6)} largest follicle ${one(Math.max(0.4, length * 0.12))}`
      : `left testis ${one(length)} by ${one(length * 0.7)} right testis ${one(length * 0.92)} by ${one(length * 0.66)}`,
    `sex ${female ? 'female' : 'male'}`,
    dice.next() < 0.6 ? 'skull fully ossified' : `skull ${dice.pick([20, 50, 70])} percent`,
    `bursa ${dice.next() < 0.7 ? 'none' : '4 by 3'}`,
    `fat ${dice.pick(['none', 'one', 'two', 'three'])}`,
    'no moult',
    `iris ${dice.pick(['dark brown', 'brown'])} bill ${dice.pick(['horn', 'black', 'grey'])} legs ${dice.pick(['pale brown', 'grey', 'black'])}`,
    `stomach ${dice.pick(['empty', 'beetles and grit', 'seeds', 'berries and seeds', 'insect remains'])}`,
    'muscle and heart in vial one',
    'liver in vial two',
    `cause of death ${story.cause === 'window-strike' ? 'head trauma' : story.cause === 'vehicle-strike' ? 'crushed chest' : 'unknown'}`,
  );
  return lines;
}
