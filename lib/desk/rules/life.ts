import { paths } from '@/lib/platform/paths';
import { phrases, say, sayCode } from '@/lib/platform/words/say';
import type { LifeBranch, LifeStage } from '../schema';

/** When something happened and who did it. */
export type Mark = { at: string; by: string | null };

export type LifeFacts = {
  birdId: string;
  salvage: { id: string; state: string; logged: Mark };
  accession: { id: string; number: string; made: Mark } | null;
  carcassState: string;
  queued: Mark | null;
  claimed: Mark | null;
  bench: { id: string; state: string; started: Mark; sent: Mark | null } | null;
  catalogue: { number: string; approved: Mark } | null;
  materials: {
    id: string;
    kind: string;
    label: string;
    state: string | null;
    custody: string;
    made: Mark;
    steps: { state: string; startedAt: string; endedAt: string | null; by: string | null }[];
    loan: { id: string; number: string; sentAt: string | null } | null;
  }[];
};

const ENDS: Record<string, string> = phrases({
  discarded: 'Discarded',
  transferred: 'Transferred',
  released: 'Released to authority',
});

/** The states of what is prepared, in the order of the work; the last is its end. */
export const BRANCH_STATES: Record<'skin' | 'skeleton', readonly string[]> = {
  skin: ['pinned', 'drying', 'dry', 'pest-freeze', 'shelved'],
  skeleton: ['rough-cleaned', 'cleaning', 'dry', 'pest-freeze', 'counted', 'shelved'],
};

const words = (state: string): string => {
  const text = sayCode(state);
  return text.charAt(0).toUpperCase() + text.slice(1);
};

/**
 * The bird's life as one line: done dots with date and person, the one where it is now, and what is still to come. It
 * forks into the materials once the carcass is divided.
 */
export function lifeOf(facts: LifeFacts): { stages: LifeStage[]; branches: LifeBranch[] } {
  const stages = trunkOf(facts);
  const firstOpen = stages.findIndex((stage) => stage.state === 'waiting');
  const stopped = stages.some((stage) => stage.state === 'stopped');
  const current = stages[firstOpen];
  if (current !== undefined && !stopped) current.state = 'current';
  return { stages, branches: facts.materials.filter(({ kind }) => kind !== 'carcass').map(branchOf) };
}

function stage(id: string, label: string, mark: Mark | null, href?: string): LifeStage {
  return {
    id,
    label,
    state: mark === null ? 'waiting' : 'done',
    at: mark?.at ?? null,
    by: mark?.by ?? null,
    href,
  };
}

function trunkOf(facts: LifeFacts): LifeStage[] {
  const found = stage(
    'salvage',
    say('Salvaged'),
    facts.salvage.logged,
    paths.salvageRecord(facts.salvage.id),
  );
  const acquired = stage(
    'accessions',
    facts.accession === null
      ? say('Accession')
      : say('Accession {number}', { number: facts.accession.number }),
    facts.accession?.made ?? null,
    facts.accession === null ? undefined : paths.accession(facts.accession.id),
  );
  if (facts.salvage.state === 'declined') {
    return [found, { ...stage('triage', say('Declined'), facts.salvage.logged), state: 'stopped' }];
  }
  const end = ENDS[facts.carcassState];
  if (end !== undefined)
    return [
      found,
      acquired,
      { ...stage('end', end, facts.salvage.logged), at: null, by: null, state: 'stopped' },
    ];
  const bench = facts.bench;
  const prepared = facts.carcassState === 'prepared' ? (bench?.started ?? null) : null;
  return [
    found,
    acquired,
    stage(
      'queue',
      facts.claimed === null ? say('Queue') : say('Taken'),
      facts.claimed ?? facts.queued,
      paths.queue,
    ),
    stage(
      'bench',
      prepared === null ? say('Bench') : say('Prepared'),
      prepared,
      bench === null ? undefined : paths.benchRecord(bench.id),
    ),
    stage(
      'review',
      say('Review'),
      facts.catalogue?.approved ?? null,
      bench === null ? undefined : paths.reviewRecord(bench.id),
    ),
    stage(
      'catalogue',
      facts.catalogue === null
        ? say('Catalogue')
        : say('Catalogue {number}', { number: facts.catalogue.number }),
      facts.catalogue?.approved ?? null,
      facts.catalogue === null ? undefined : paths.catalogueEntry(facts.birdId),
    ),
  ];
}

function branchOf(material: LifeFacts['materials'][number]): LifeBranch {
  const { kind } = material;
  const isLong = kind === 'skin' || kind === 'skeleton';
  const stages = isLong ? longBranch(material, BRANCH_STATES[kind]) : shortBranch(material);
  if (material.loan !== null && material.custody === 'on-loan') {
    stages.push({
      ...stage(
        'loan',
        say('On loan {number}', { number: material.loan.number }),
        { at: material.loan.sentAt ?? material.made.at, by: null },
        paths.loan(material.loan.id),
      ),
      state: 'current',
    });
  } else if (material.custody !== 'on-shelf') {
    stages.push({
      ...stage('custody', words(material.custody), material.made),
      at: null,
      by: null,
      state: 'stopped',
    });
  }
  return {
    id: material.id,
    kind: words(material.kind),
    label: material.label,
    href: paths.material(material.id),
    stages,
  };
}

function shortBranch({ state, made }: LifeFacts['materials'][number]): LifeStage[] {
  return [
    stage('made', say('Made'), made),
    ...(state === null ? [] : [{ ...stage('state', words(state), null), state: 'current' as const }]),
  ];
}

function longBranch(material: LifeFacts['materials'][number], order: readonly string[]): LifeStage[] {
  const at = order.indexOf(material.state ?? '');
  return order.map((state, index) => {
    const step = material.steps.find((taken) => taken.state === state);
    const mark =
      step === undefined ? (index === 0 ? material.made : null) : { at: step.startedAt, by: step.by };
    const reached: LifeStage['state'] =
      index < at || (index === at && index === order.length - 1)
        ? 'done'
        : index === at
          ? 'current'
          : 'waiting';
    return { ...stage(state, words(state), mark), state: reached };
  });
}
