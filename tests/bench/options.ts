import { parseArgs } from 'node:util';
import { OperatorError } from '@/lib/ops/operator-error';

export type Options = {
  /** Sizes of the collections, ascending. */
  materials: number[];
  rounds: number;
  seconds: number;
  /** Names of acts, and BESIDE for what is measured beside them; null: everything. */
  only: string[] | null;
  /** A folder or a PostgreSQL server's address where filled collections stay; null: a throwaway server. */
  keep: string | null;
  soakMinutes: number;
  isReadme: boolean;
  isSaved: boolean;
};

/** Stands among the acts for start, live connections, errands and programs. */
export const BESIDE = 'beside';

const LEAST_MATERIALS = 1000;

/** The arguments of `npm run bench`. @throws OperatorError that says what an argument must be. */
export function readOptions(args: readonly string[]): Options {
  const { values } = parseArgs({
    args: [...args],
    options: {
      materials: { type: 'string', default: '10000,100000,1000000' },
      rounds: { type: 'string', default: '3' },
      seconds: { type: 'string', default: '0.8' },
      only: { type: 'string' },
      keep: { type: 'string' },
      soak: { type: 'string', default: '0' },
      readme: { type: 'boolean', default: false },
      saved: { type: 'boolean', default: false },
    },
  });
  const materials = [...new Set(values.materials.split(',').map(Number))].sort((a, b) => a - b);
  const [rounds, seconds, soakMinutes] = [values.rounds, values.seconds, values.soak].map(Number) as [
    number,
    number,
    number,
  ];
  if (!materials.every((count) => Number.isSafeInteger(count) && count >= LEAST_MATERIALS))
    throw new OperatorError(
      `--materials is whole numbers, ${LEAST_MATERIALS} or more each, with commas between: 10000,1000000.`,
    );
  if (!Number.isSafeInteger(rounds) || rounds < 1 || !(seconds > 0))
    throw new OperatorError('--rounds is a whole number, 1 or more; --seconds is more than 0.');
  if (!(soakMinutes >= 0)) throw new OperatorError('--soak is minutes, 0 or more.');
  return {
    materials,
    rounds,
    seconds,
    only: values.only?.split(',') ?? null,
    keep: values.keep ?? null,
    soakMinutes,
    isReadme: values.readme,
    isSaved: values.saved,
  };
}
