import { say } from '@/lib/platform/words/say';
/** Where the dots and lines of a record's life line lie. Pure; x in columns, y in px. */

export type LifeState = 'done' | 'current' | 'waiting' | 'stopped';

export type LifeStage = {
  id: string;
  label: string;
  state: LifeState;
  /** Calendar day or instant. */
  at?: string | null;
  by?: string | null;
  href?: string;
};

export type LifeBranch = {
  id: string;
  /** Word for the kind of material: 'Skin', 'Skeleton', 'Vial'. */
  kind: string;
  label: string;
  href?: string;
  stages: readonly LifeStage[];
};

export type LifeSegment = { d: string; ahead: boolean };
export type LifeLayout = {
  columns: number;
  heightPx: number;
  trunkY: number;
  forkX: number;
  branchY: readonly number[];
  segments: readonly LifeSegment[];
};

const TOP_PX = 12;
/** Height of one line with the three lines of words under its dots. */
const ROW_PX = 92;
/** A branch has its name above the line. */
const NAME_PX = 26;
const BRANCH_PX = ROW_PX + NAME_PX;
/** Width of the fork, in columns. */
const FORK = 0.45;
/** How far a line runs on under the words of its last dot, in columns, before it forks. */
const RUN_ON = 0.9;

/** Nothing has happened here yet. */
export const isAhead = (stage: LifeStage | undefined): boolean =>
  stage === undefined || stage.state === 'waiting';

/** The line of each branch, top to bottom; the trunk meets their middle, as the arms of a wishbone meet. */
function rowsOf(branches: readonly LifeBranch[]): { trunkY: number; branchY: number[]; heightPx: number } {
  if (branches.length === 0) return { trunkY: TOP_PX, branchY: [], heightPx: TOP_PX + ROW_PX - 12 };
  const branchY = branches.map((_, row) => TOP_PX + NAME_PX + row * BRANCH_PX);
  const first = branchY[0] ?? TOP_PX;
  const last = branchY.at(-1) ?? first;
  return { trunkY: (first + last) / 2, branchY, heightPx: last + ROW_PX - 12 };
}

function straight(stages: readonly LifeStage[], startX: number, y: number): LifeSegment[] {
  return stages.slice(1).map((stage, index) => ({
    d: `M${startX + index} ${y}H${startX + index + 1}`,
    ahead: isAhead(stage),
  }));
}

/** Lays a life line out from left to right: one column a stage, the trunk first, each branch on a line of its own. */
export function layOutLifeLine(stages: readonly LifeStage[], branches: readonly LifeBranch[]): LifeLayout {
  const { trunkY, branchY, heightPx } = rowsOf(branches);
  const forkX = stages.length === 0 ? 0 : stages.length - 1 + RUN_ON;
  const branchX = branches.length === 0 ? 0 : forkX + FORK;
  const longest = Math.max(0, ...branches.map((branch) => branch.stages.length));
  const segments = straight(stages, 0, trunkY);
  if (branches.length > 0 && stages.length > 0) {
    segments.push({
      d: `M${stages.length - 1} ${trunkY}H${forkX}`,
      ahead: branches.every((branch) => isAhead(branch.stages[0])),
    });
  }
  branches.forEach((branch, row) => {
    const y = branchY[row] ?? trunkY;
    segments.push({
      d: `M${forkX} ${trunkY}C${forkX + FORK * 0.55} ${trunkY} ${forkX + FORK * 0.1} ${y} ${branchX} ${y}`,
      ahead: isAhead(branch.stages[0]),
    });
    segments.push(...straight(branch.stages, branchX, y));
  });
  return {
    columns: Math.max(1, branches.length === 0 ? stages.length : branchX + longest),
    heightPx,
    trunkY,
    forkX: branchX,
    branchY,
    segments,
  };
}

/** The state of a dot in words, for those who do not see it. */
export function sayLifeState(state: LifeState): string {
  if (state === 'done') return say('done');
  if (state === 'current') return say('now here');
  return state === 'waiting' ? say('still to come') : say('stopped');
}

/** One sentence for the whole line: 'Bench: now here. Skin: drying. Vial 1: stored.' */
export function sayLifeLine(stages: readonly LifeStage[], branches: readonly LifeBranch[]): string {
  const latest = (line: readonly LifeStage[]) => line.findLast((stage) => !isAhead(stage));
  const trunk = latest(stages);
  const parts = branches.map((branch) => {
    const stage = latest(branch.stages);
    return `${branch.kind} ${branch.label}: ${stage ? stage.label.toLowerCase() : say('not begun')}`;
  });
  if (trunk) parts.unshift(`${trunk.label}: ${sayLifeState(trunk.state)}`);
  return parts.length === 0 ? say('Nothing has happened yet.') : `${parts.join('. ')}.`;
}
