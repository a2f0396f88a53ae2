import { countOf, say, sayCode } from '@/lib/platform/words/say';
import {
  type CarcassCondition,
  PRIORITY_COMPONENTS,
  type PriorityComponent,
  type PriorityFacts,
  type PriorityScales,
  type PriorityWeights,
} from '../schema';

/** One part of a bird's priority: what was found, how urgent that is (0..1), and the points it gives of 100. */
export type PriorityPart = {
  component: PriorityComponent;
  /** The figure found, in `unit`; null where nothing is known (then the score is 0). */
  raw: number | null;
  unit: 'days' | 'grade' | 'share' | 'urgency' | 'minutes';
  score: number;
  weight: number;
  contribution: number;
  sentence: string;
};

export type Priority = { birdId: string; total: number; parts: PriorityPart[] };

type Judged = Pick<PriorityPart, 'raw' | 'unit' | 'score' | 'sentence'>;

const clamp = (value: number) => Math.min(1, Math.max(0, value));
const days = (count: number) => countOf(Math.round(count), 'day');

/** The better a carcass is, the more is lost by waiting; remains give bones whenever they are taken. */
const CONDITION_SCORE: Record<CarcassCondition, number | null> = {
  fresh: 1,
  good: 0.8,
  fair: 0.5,
  poor: 0.2,
  remains: 0,
  unknown: null,
};
const URGENCY_SCORE = { 'when-possible': 0.4, soon: 0.7, now: 1 } as const;

function judgeFreezerTime({ daysInFreezer }: PriorityFacts, scales: PriorityScales): Judged {
  if (daysInFreezer === null)
    return {
      raw: null,
      unit: 'days',
      score: 0,
      sentence: say('Not in a freezer, or since when is not known.'),
    };
  const score = clamp(daysInFreezer / scales.freezerDaysFull);
  return {
    raw: daysInFreezer,
    unit: 'days',
    score,
    sentence: say('{days} in the freezer.', { days: days(daysInFreezer) }),
  };
}

function judgeCondition({ condition }: PriorityFacts): Judged {
  const grade = CONDITION_SCORE[condition];
  if (grade === null) return { raw: null, unit: 'grade', score: 0, sentence: say('Condition not recorded.') };
  return {
    raw: grade,
    unit: 'grade',
    score: grade,
    sentence: say('Condition {condition}.', { condition: sayCode(condition) }),
  };
}

/** The mean of the gaps, so that a bird which fills several counts for more than one that fills a single one. */
function judgeNeed({ gaps }: PriorityFacts): Judged {
  if (gaps.length === 0)
    return { raw: null, unit: 'share', score: 0, sentence: say('No wish is set for this kind of bird.') };
  const share = gaps.reduce((sum, gap) => sum + clamp(1 - gap.catalogued / gap.wanted), 0) / gaps.length;
  const list = gaps
    .map((gap) =>
      say('{what}: {catalogued} of {wanted} wanted', {
        what: gap.what,
        catalogued: gap.catalogued,
        wanted: gap.wanted,
      }),
    )
    .join('; ');
  return { raw: share, unit: 'share', score: share, sentence: say('Catalogued so far: {list}.', { list }) };
}

function judgeDeadline({ permitDaysLeft }: PriorityFacts, scales: PriorityScales): Judged {
  if (permitDaysLeft === null)
    return { raw: null, unit: 'days', score: 0, sentence: say('No permit deadline falls on this bird.') };
  const score = clamp(1 - permitDaysLeft / scales.permitDaysHorizon);
  const sentence =
    permitDaysLeft < 0
      ? say('Permit deadline passed {days} ago.', { days: days(-permitDaysLeft) })
      : say('{days} to the permit deadline.', { days: days(permitDaysLeft) });
  return { raw: permitDaysLeft, unit: 'days', score, sentence };
}

/**
 * What there is still to save: the share left by a half-life set by the lab (common practice, no source). At or below
 * the safe temperature nothing is lost by waiting, so nothing is urgent.
 */
function judgeTissue({ daysInFreezer, freezerC, condition }: PriorityFacts, scales: PriorityScales): Judged {
  if (daysInFreezer === null || freezerC === null)
    return {
      raw: null,
      unit: 'share',
      score: 0,
      sentence: say('Time or temperature of storage is not known.'),
    };
  if (condition === 'remains')
    return { raw: 0, unit: 'share', score: 0, sentence: say('Remains: no tissue worth hurrying for.') };
  const left = 2 ** (-daysInFreezer / scales.tissueHalfLifeDays);
  if (freezerC <= scales.tissueSafeAtC)
    return {
      raw: left,
      unit: 'share',
      score: 0,
      sentence: say('At {freezerC} °C the tissue keeps.', { freezerC }),
    };
  const sentence = say("At {freezerC} °C about {round} % of the tissue's worth is left, and falling.", {
    freezerC,
    round: Math.round(left * 100),
  });
  return { raw: left, unit: 'share', score: left, sentence };
}

function judgeRequest({ request }: PriorityFacts): Judged {
  if (request === null)
    return { raw: null, unit: 'urgency', score: 0, sentence: say('Nobody has asked for it.') };
  const score = URGENCY_SCORE[request.urgency];
  const when = sayCode(request.urgency);
  const reason = request.reason ? `: ${request.reason}` : '';
  return {
    raw: score,
    unit: 'urgency',
    score,
    sentence: say('Asked for by {byName}, {when}{reason}.', { byName: request.byName, when, reason }),
  };
}

function judgeJobSize({ jobMinutes }: PriorityFacts, scales: PriorityScales): Judged {
  if (jobMinutes === null)
    return {
      raw: null,
      unit: 'minutes',
      score: 0,
      sentence: say('No preparation chosen, so its time is not known.'),
    };
  const score = clamp(1 - jobMinutes / scales.jobMinutesFull);
  return {
    raw: jobMinutes,
    unit: 'minutes',
    score,
    sentence: say('About {round} minutes of work.', { round: Math.round(jobMinutes) }),
  };
}

const JUDGES: Record<PriorityComponent, (facts: PriorityFacts, scales: PriorityScales) => Judged> = {
  'freezer-time': judgeFreezerTime,
  condition: judgeCondition,
  'collection-need': judgeNeed,
  'permit-deadline': judgeDeadline,
  'tissue-quality': judgeTissue,
  request: judgeRequest,
  'job-size': judgeJobSize,
};

/**
 * The priority of one bird, 0..100: the weighted mean of its components' scores. The contributions add up to the
 * total, so that a bar of them shows where it comes from. With all weights 0 the total is 0.
 */
export function computePriority(
  facts: PriorityFacts,
  weights: PriorityWeights,
  scales: PriorityScales,
): Priority {
  const weightSum = PRIORITY_COMPONENTS.reduce((sum, component) => sum + weights[component], 0);
  const parts = PRIORITY_COMPONENTS.map((component): PriorityPart => {
    const judged = JUDGES[component](facts, scales);
    const weight = weights[component];
    const contribution = weightSum === 0 ? 0 : (100 * weight * judged.score) / weightSum;
    return { component, ...judged, weight, contribution };
  });
  return { birdId: facts.birdId, total: parts.reduce((sum, part) => sum + part.contribution, 0), parts };
}

export type RankedBird = { rank: number; label: string; priority: Priority };

/**
 * Birds from first to last, those on hold left out and listed apart. Equal totals: the longer in the freezer first,
 * then by id, so that the order is the same each time.
 */
export function rankBirds(
  birds: readonly PriorityFacts[],
  weights: PriorityWeights,
  scales: PriorityScales,
): { ranked: RankedBird[]; held: PriorityFacts[] } {
  const free = birds.filter((bird) => bird.holds.length === 0);
  const scored = free.map((bird) => ({ bird, priority: computePriority(bird, weights, scales) }));
  scored.sort(
    (a, b) =>
      b.priority.total - a.priority.total ||
      (b.bird.daysInFreezer ?? 0) - (a.bird.daysInFreezer ?? 0) ||
      (a.bird.birdId < b.bird.birdId ? -1 : 1),
  );
  return {
    ranked: scored.map(({ bird, priority }, at) => ({ rank: at + 1, label: bird.label, priority })),
    held: birds.filter((bird) => bird.holds.length > 0),
  };
}

export type MovedBird = {
  birdId: string;
  label: string;
  rankBefore: number;
  rankAfter: number;
  totalBefore: number;
  totalAfter: number;
};

/** What other weights (and scales) would do before they are saved: the birds that change places, farthest first. */
export function previewWeights(
  birds: readonly PriorityFacts[],
  before: PriorityWeights,
  after: PriorityWeights,
  scales: PriorityScales,
  scalesAfter: PriorityScales = scales,
): { moved: MovedBird[]; unmoved: number } {
  const old = new Map(rankBirds(birds, before, scales).ranked.map((bird) => [bird.priority.birdId, bird]));
  const moved: MovedBird[] = [];
  let unmoved = 0;
  for (const { rank, label, priority } of rankBirds(birds, after, scalesAfter).ranked) {
    const was = old.get(priority.birdId);
    if (was === undefined || was.rank === rank) unmoved += 1;
    else {
      const totals = { totalBefore: was.priority.total, totalAfter: priority.total };
      moved.push({ birdId: priority.birdId, label, rankBefore: was.rank, rankAfter: rank, ...totals });
    }
  }
  const distance = (bird: MovedBird) => Math.abs(bird.rankAfter - bird.rankBefore);
  moved.sort((a, b) => distance(b) - distance(a) || a.rankAfter - b.rankAfter);
  return { moved, unmoved };
}
