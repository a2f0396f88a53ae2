import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { computePriority, previewWeights, rankBirds } from '@/lib/queue/rules/priority';
import {
  CARCASS_CONDITIONS,
  PRIORITY_COMPONENTS,
  type PriorityComponent,
  type PriorityFacts,
  priorityScalesSchema,
  priorityWeightsSchema,
  REQUEST_URGENCIES,
} from '@/lib/queue/schema';

const scales = priorityScalesSchema.parse({});
const weights = priorityWeightsSchema.parse({});
const bird = (change: Partial<PriorityFacts> = {}): PriorityFacts => ({
  birdId: 'b1',
  label: 'SB-2026-0001 Turdus migratorius',
  daysInFreezer: null,
  freezerC: null,
  condition: 'unknown',
  gaps: [],
  permitDaysLeft: null,
  request: null,
  jobMinutes: null,
  holds: [],
  ...change,
});
const part = (facts: PriorityFacts, component: PriorityComponent) => {
  const found = computePriority(facts, weights, scales).parts.find((one) => one.component === component);
  if (found === undefined) throw new Error(`No part ${component}.`);
  return found;
};

const anyBird = fc.record({
  birdId: fc.uuid(),
  label: fc.string(),
  daysInFreezer: fc.option(fc.integer({ min: 0, max: 5000 })),
  freezerC: fc.option(fc.integer({ min: -90, max: 5 })),
  condition: fc.constantFrom(...CARCASS_CONDITIONS),
  gaps: fc.array(
    fc.record({
      what: fc.string(),
      catalogued: fc.integer({ min: 0, max: 50 }),
      wanted: fc.integer({ min: 1, max: 20 }),
    }),
    { maxLength: 3 },
  ),
  permitDaysLeft: fc.option(fc.integer({ min: -400, max: 400 })),
  request: fc.option(fc.record({ byName: fc.string(), urgency: fc.constantFrom(...REQUEST_URGENCIES) })),
  jobMinutes: fc.option(fc.integer({ min: 1, max: 900 })),
  holds: fc.constant<PriorityFacts['holds']>([]),
});
const anyWeights = fc.record(
  Object.fromEntries(PRIORITY_COMPONENTS.map((name) => [name, fc.integer({ min: 0, max: 10 })])) as Record<
    PriorityComponent,
    fc.Arbitrary<number>
  >,
);

describe('priority of a bird', () => {
  it.each<[PriorityComponent, Partial<PriorityFacts>, number, RegExp]>([
    ['freezer-time', { daysInFreezer: 365 }, 0.5, /365 days in the freezer/],
    ['freezer-time', { daysInFreezer: 2000 }, 1, /2,000 days/],
    ['condition', { condition: 'fair' }, 0.5, /fair/],
    [
      'collection-need',
      { gaps: [{ what: 'females', catalogued: 2, wanted: 10 }] },
      0.8,
      /females: 2 of 10 wanted/,
    ],
    ['collection-need', { gaps: [{ what: 'males', catalogued: 30, wanted: 10 }] }, 0, /30 of 10/],
    [
      'collection-need',
      {
        gaps: [
          { what: 'females', catalogued: 0, wanted: 4 },
          { what: 'March', catalogued: 4, wanted: 4 },
        ],
      },
      0.5,
      /March/,
    ],
    ['permit-deadline', { permitDaysLeft: 45 }, 0.75, /45 days to the permit deadline/],
    ['permit-deadline', { permitDaysLeft: -1 }, 1, /passed 1 day ago/],
    ['permit-deadline', { permitDaysLeft: 900 }, 0, /900 days/],
    ['tissue-quality', { daysInFreezer: 365, freezerC: -20 }, 0.5, /50 %/],
    ['tissue-quality', { daysInFreezer: 365, freezerC: -80 }, 0, /keeps/],
    ['tissue-quality', { daysInFreezer: 1, freezerC: -20, condition: 'remains' }, 0, /Remains/],
    ['request', { request: { byName: 'Mira Holt', urgency: 'now' } }, 1, /Mira Holt, now/],
    ['job-size', { jobMinutes: 120 }, 0.75, /120 minutes/],
  ])('%s of %o is %d', (component, change, score, sentence) => {
    const judged = part(bird(change), component);
    expect(judged.score).toBeCloseTo(score, 10);
    expect(judged.sentence).toMatch(sentence);
  });

  it('says of each unknown that it is unknown, and gives it nothing', () => {
    const { total, parts } = computePriority(bird(), weights, scales);
    expect(total).toBe(0);
    expect(parts.map((one) => one.component)).toEqual([...PRIORITY_COMPONENTS]);
    for (const one of parts) {
      expect(one.raw).toBeNull();
      expect(one.sentence).not.toBe('');
    }
  });

  it('adds up: contributions make the total, scores lie in 0..1, the total in 0..100', () => {
    fc.assert(
      fc.property(anyBird, anyWeights, (facts, anyWeight) => {
        const { total, parts } = computePriority(facts, anyWeight, scales);
        expect(parts.reduce((sum, one) => sum + one.contribution, 0)).toBeCloseTo(total, 9);
        expect(total).toBeGreaterThanOrEqual(0);
        expect(total).toBeLessThanOrEqual(100 + 1e-9);
        for (const one of parts) expect(one.score >= 0 && one.score <= 1).toBe(true);
      }),
    );
  });

  it('is the component alone when only its weight is set', () => {
    const only = {
      ...priorityWeightsSchema.parse({}),
      ...Object.fromEntries(PRIORITY_COMPONENTS.map((c) => [c, 0])),
    };
    const facts = bird({ permitDaysLeft: 45, daysInFreezer: 10 });
    expect(computePriority(facts, { ...only, 'permit-deadline': 7 }, scales).total).toBeCloseTo(75, 10);
    expect(computePriority(facts, only, scales).total).toBe(0);
  });
});

describe('the order of the queue', () => {
  const old = bird({ birdId: 'old', daysInFreezer: 700 });
  const wanted = bird({
    birdId: 'wanted',
    daysInFreezer: 10,
    request: { byName: 'Mira Holt', urgency: 'now' },
  });
  const held = bird({ birdId: 'held', holds: ['legal'] });

  it('leaves birds on hold out of the order and lists them apart', () => {
    const { ranked, held: apart } = rankBirds([old, held, wanted], weights, scales);
    expect(ranked.map((one) => [one.rank, one.priority.birdId])).toEqual([
      [1, 'wanted'],
      [2, 'old'],
    ]);
    expect(apart).toEqual([held]);
  });

  it('does not depend on the order in which birds come', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(anyBird, { selector: (one) => one.birdId, maxLength: 12 }),
        fc.nat(),
        (birds, turn) => {
          const at = birds.length > 0 ? turn % birds.length : 0;
          const turned = [...birds.slice(at), ...birds.slice(0, at)];
          const ids = (list: PriorityFacts[]) =>
            rankBirds(list, weights, scales).ranked.map((one) => one.priority.birdId);
          expect(ids(turned)).toEqual(ids(birds));
        },
      ),
    );
  });

  it('shows before saving which birds other weights move', () => {
    const noRequests = { ...weights, request: 0 };
    const { moved, unmoved } = previewWeights([old, wanted, held], weights, noRequests, scales);
    expect(unmoved).toBe(0);
    expect(moved.map(({ birdId, rankBefore, rankAfter }) => [birdId, rankBefore, rankAfter])).toEqual([
      ['old', 2, 1],
      ['wanted', 1, 2],
    ]);
    expect(previewWeights([old, wanted], weights, weights, scales)).toEqual({ moved: [], unmoved: 2 });
  });
});
