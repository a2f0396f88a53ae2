import { type Growth, growthOf } from './growth';
import { type Line, type Report, rate, sayCount, sayUsers } from './table';

/** A goal of the bench, what was measured and whether it is met; null where no limit is set. */
export type Goal = { goal: string; figure: string; isMet: boolean | null };

const RATIO = 1.6;
const KEYED_GROWTH = 1.5;
const FACETED_GROWTH = 3;
const AUTOSAVE = 3;
const MEMORY_MB = 400;
const LIVE_MB = 200;
const GROWTH_USERS = [1, 20];
const JUDGED_WITH_PAUSES = ['search by number', 'search by misspelled name with facets'];

/** The goals that these reports say something about; those of one size are held against the largest. */
export function judge(reports: readonly Report[]): Goal[] {
  const largest = [...reports].sort((a, b) => b.materials - a.materials)[0];
  if (largest === undefined) return [];
  return [
    ...judgeRatios(largest),
    ...judgeGrowth(reports),
    ...judgePauses(largest),
    ...judgeAutosave(largest),
    ...judgeMemory(largest),
  ];
}

function judgeRatios(report: Report): Goal[] {
  const reads = rate(report).filter(({ line }) => line.kind === 'read');
  const [worst] = reads;
  if (worst === undefined) return [];
  const over = reads.filter(({ ratio }) => ratio > RATIO).length;
  return [
    {
      goal: `each main read within ${RATIO} times of the empty route and its bare statements together`,
      figure: `${over} of ${reads.length} lines over; worst ${worst.line.act}, ${sayUsers(worst.line)}: ${worst.ratio.toFixed(2)}`,
      isMet: over === 0,
    },
  ];
}

function judgeGrowth(reports: readonly Report[]): Goal[] {
  const reads = growthOf(reports).filter(
    ({ kind, users }) => kind === 'read' && GROWTH_USERS.includes(users),
  );
  const sizes = reads[0]?.p50.map(({ materials }) => materials) ?? [];
  const between = `from ${sayCount(sizes[0] ?? 0)} to ${sayCount(sizes.at(-1) ?? 0)} materials`;
  const goal = (what: string, limit: number, of: readonly Growth[]): Goal[] => {
    const [worst] = [...of].sort((a, b) => b.times - a.times);
    if (worst === undefined) return [];
    return [
      {
        goal: `${what} take less than ${limit} times as long ${between}`,
        figure: `worst ${worst.act}, ${sayUsers({ users: worst.users, pauseMs: 0 })}: ${worst.times.toFixed(2)} times`,
        isMet: worst.times < limit,
      },
    ];
  };
  const isFaceted = ({ act, isKeyed }: Growth) => !isKeyed && act.startsWith('search');
  return [
    ...goal(
      'reads by keys',
      KEYED_GROWTH,
      reads.filter(({ isKeyed }) => isKeyed),
    ),
    ...goal('searches with facets', FACETED_GROWTH, reads.filter(isFaceted)),
  ];
}

const judgePauses = ({ lines }: Report): Goal[] =>
  lines
    .filter(({ act, pauseMs }) => pauseMs > 0 && JUDGED_WITH_PAUSES.includes(act))
    .map((line) => ({
      goal: `${line.act}, ${sayUsers(line)}`,
      figure: `p95 ${line.http.p95.toFixed(0)} ms`,
      isMet: null,
    }));

function judgeAutosave({ lines }: Report): Goal[] {
  const rated = lines
    .flatMap((line): { line: Line; times: number }[] =>
      line.act === 'bench autosave' && line.bare !== null
        ? [{ line, times: line.http.p50 / line.bare.p50 }]
        : [],
    )
    .sort((a, b) => b.times - a.times);
  const [worst] = rated;
  if (worst === undefined) return [];
  return [
    {
      goal: `bench autosave under ${AUTOSAVE} times its bare transaction`,
      figure: `worst with ${sayUsers(worst.line)}: ${worst.times.toFixed(2)} times`,
      isMet: worst.times < AUTOSAVE,
    },
  ];
}

function judgeMemory({ memoryMb, live }: Report): Goal[] {
  const [crowd] = [...memoryMb.most].sort((a, b) => b.users - a.users);
  const cost = live === null ? null : live.afterMb - live.beforeMb;
  return [
    ...(crowd === undefined
      ? []
      : [
          {
            goal: `server under ${MEMORY_MB} MB resident with ${sayUsers({ users: crowd.users, pauseMs: 0 })}`,
            figure: `${crowd.mb.toFixed(0)} MB at most`,
            isMet: crowd.mb < MEMORY_MB,
          },
        ]),
    ...(live === null || cost === null
      ? []
      : [
          {
            goal: `${live.listeners} live connections under ${LIVE_MB} MB, and each hears of a change`,
            figure: `${cost.toFixed(0)} MB, ${live.heard} heard within ${live.longestMs.toFixed(0)} ms`,
            isMet: cost < LIVE_MB && live.heard === live.listeners,
          },
        ]),
  ];
}
