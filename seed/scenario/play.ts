import { randomUUID } from 'node:crypto';
import { makeAccession } from '@/lib/accessions/service';
import { parseDictation } from '@/lib/bench/dictation/parse';
import { divideCarcass } from '@/lib/bench/service/divide';
import { writeEntries } from '@/lib/bench/service/entries';
import { showRecord, startRecord } from '@/lib/bench/service/records';
import { sendToReview } from '@/lib/bench/service/review';
import { approveRecord, returnRecord } from '@/lib/catalogue/service/review';
import type { Actor } from '@/lib/platform/actor';
import { takeBird } from '@/lib/queue/claims';
import { disposeBird } from '@/lib/queue/disposal';
import { enqueueBirds, showQueueBird, takeOutOfFreezer } from '@/lib/queue/service';
import { showFind } from '@/lib/salvage/service/reading';
import { reportFind } from '@/lib/salvage/service/report';
import { acceptFind, declineFind, startTriage } from '@/lib/salvage/service/triage';
import { saveBoneBook, showBoneBook } from '@/lib/skeletons/book';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import { formatPosition } from '@/lib/storage/public';
import { fillVials } from '@/lib/tissues/service/fill';
import { sayBenchLines } from './bench-lines';
import { contextOf, type Stage } from './foundation';
import { Dice } from './random';
import { ENDS, type End, type Story } from './stories';

/** One thing that happens to a bird, at its time. The scenario plays all birds' acts in the order of time. */
export type Act = { at: string; run: () => Promise<void> };

/** What a bird's later acts need of its earlier ones. */
export type Life = { story: Story; salvageId: string; birdId: string; recordId: string; preparator: Actor };

const REACHES: readonly End[] = ENDS.map(([end]) => end);
const LEFT: readonly End[] = ['destroyed', 'transferred', 'released'];
const DAY_MS = 86_400_000;

const later = (day: string, days: number, hour = 10): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY_MS + hour * 3_600_000).toISOString();

const reaches = (story: Story, end: End): boolean => {
  if (LEFT.includes(story.end)) return REACHES.indexOf('frozen') >= REACHES.indexOf(end);
  return REACHES.indexOf(story.end) >= REACHES.indexOf(end);
};

/** Volunteers have few birds open at once; what is not finished in the demo lies mostly with the staff. */
function workerOf({ end, index }: Story, dice: Dice): string {
  if (end === 'claimed' || end === 'thawing' || end === 'draft')
    return ['preparator', 'curator2', 'preparator', 'volunteer', 'curator2'][index % 5] ?? 'preparator';
  return dice.pick(['preparator', 'volunteer', 'volunteer', 'curator2']);
}

/** The acts of one bird's life up to where its story ends. */
export function playBird(stage: Stage, story: Story): Act[] {
  const { people } = stage;
  const dice = new Dice(7_000 + story.index);
  const person = (key: string): Actor => {
    const found = people[key];
    if (found === undefined) throw new Error(`The demo has nobody called ${key}.`);
    return found;
  };
  const life: Life = {
    story,
    salvageId: '',
    birdId: '',
    recordId: '',
    preparator: person(workerOf(story, dice)),
  };
  const acts: Act[] = [];
  const on = (days: number, hour: number, run: () => Promise<void>) =>
    void acts.push({ at: later(story.foundOn, days, hour), run });

  on(1, 9, () => reportBird(stage, life, person('registrar')));
  if (!reaches(story, 'in-triage')) return acts;
  on(1, 11, () => triage(life, person('preparator')));
  if (story.end === 'in-triage') return acts;
  if (story.end === 'declined') {
    on(2, 9, () => decline(life, person('preparator')));
    return acts;
  }
  on(2, 9, () => accept(stage, life, person('preparator')));
  if (story.end === 'accepted') return acts;
  on(4, 14, () => accession(life, person('registrar')));
  if (LEFT.includes(story.end)) {
    on(20, 10, () => leave(life, person('preparator')));
    return acts;
  }
  if (story.end === 'frozen') return acts;
  on(6, 10, () => queue(life, person('preparator')));
  if (story.end === 'queued') return acts;
  benchActs(stage, life, { on, person, dice, waited: dice.between(9, 40) });
  return acts;
}

async function reportBird(stage: Stage, life: Life, by: Actor): Promise<void> {
  const { story } = life;
  const record = await reportFind(contextOf(by), {
    requestKey: randomUUID(),
    found: { earliestOn: story.foundOn, latestOn: story.foundOn, verbatim: story.foundOn },
    receivedOn: null,
    place: {
      country: 'US',
      stateProvince: 'Ohio',
      county: story.place.county,
      locality: story.place.locality,
      placeId: null,
      verbatimCoordinates: null,
      latitude: story.place.latitude,
      longitude: story.place.longitude,
      uncertaintyM: 120,
    },
    taxonId: stage.taxa.get(story.species.name) ?? null,
    verbatimTaxon: story.species.name,
    specimenType: 'whole-bird',
    quantity: 1,
    circumstances: story.cause === 'window-strike' ? 'Lay below a window.' : '',
    cause: story.cause as never,
    condition: story.condition,
    bandNumber: null,
    diseaseSigns: story.problem === 'disease',
    suspectedIllegal: story.problem === 'shot',
    remarks: null,
    finder: { name: story.finder, email: null, phone: null, address: null },
    facts: {},
  });
  life.salvageId = record.id;
}

const versionOf = async (life: Life, by: Actor): Promise<number> =>
  (await showFind(by, life.salvageId)).version;

async function triage(life: Life, by: Actor): Promise<void> {
  await startTriage(contextOf(by), life.salvageId, { version: await versionOf(life, by) });
}

async function decline(life: Life, by: Actor): Promise<void> {
  await declineFind(contextOf(by), life.salvageId, {
    version: await versionOf(life, by),
    reason: 'Too far gone to be of use; the finder keeps to the local rules for disposal.',
  });
}

async function accept(stage: Stage, life: Life, by: Actor): Promise<void> {
  const unitId = stage.units[life.story.index % 3 === 0 ? 'freezer2' : 'freezer'] ?? '';
  const record = await acceptFind(contextOf(by), life.salvageId, {
    version: await versionOf(life, by),
    storage: { unitId, position: null },
  });
  life.birdId = record.birdId ?? '';
}

async function accession(life: Life, by: Actor): Promise<void> {
  await makeAccession(contextOf(by), {
    kind: 'salvage',
    source: life.story.finder,
    receivedOn: later(life.story.foundOn, 1).slice(0, 10),
    agreement: null,
    remarks: null,
    salvageIds: [life.salvageId],
  });
}

async function queue(life: Life, by: Actor): Promise<void> {
  const { style, species } = life.story;
  await enqueueBirds(contextOf(by), { birdIds: [life.birdId], style, sizeClass: species.sizeClass });
}

async function leave(life: Life, by: Actor): Promise<void> {
  const { end, foundOn } = life.story;
  const { version } = await showQueueBird(by, life.birdId);
  const common = { version, on: later(foundOn, 20).slice(0, 10), reason: 'Not wanted for the collection.' };
  if (end === 'destroyed') {
    await disposeBird(contextOf(by), life.birdId, {
      ...common,
      act: 'discard',
      method: 'incinerated',
      witness: 'Agnes Pell',
    });
  } else if (end === 'transferred') {
    await disposeBird(contextOf(by), life.birdId, {
      ...common,
      act: 'transfer',
      recipient: 'Marrow Ridge teaching collection',
      recipientAuthority: 'MB-51120-0',
    });
  } else {
    await disposeBird(contextOf(by), life.birdId, {
      ...common,
      act: 'release',
      recipient: 'Conservation officer, district 4',
      instruction: 'letter of the officer',
    });
  }
}

type Direction = {
  on: (days: number, hour: number, run: () => Promise<void>) => void;
  person: (key: string) => Actor;
  dice: Dice;
  waited: number;
};

function benchActs(stage: Stage, life: Life, { on, person, dice, waited }: Direction): void {
  const { story } = life;
  on(waited, 9, async () => {
    await takeBird(contextOf(life.preparator), life.birdId, {});
  });
  if (!reaches(story, 'thawing')) return;
  on(waited, 10, async () => {
    await takeOutOfFreezer(contextOf(life.preparator), life.birdId);
  });
  if (story.end === 'thawing') return;
  on(waited, 15, async () => {
    life.recordId = (await startRecord(contextOf(life.preparator), life.birdId)).id;
  });
  const lines = sayBenchLines(story, dice);
  on(waited, 15.5, () => dictate(life, story.end === 'draft' ? lines.slice(0, dice.between(2, 6)) : lines));
  if (story.end === 'draft') return;
  on(waited, 16, () => splitBones(life));
  on(waited, 16.5, () => fill(stage, life));
  on(waited, 17, async () => {
    const kinds = PRODUCTS[story.style];
    await divideCarcass(contextOf(life.preparator), life.recordId, {
      products: kinds.map((kind) => ({ kind, count: 1, description: null })),
    });
  });
  on(waited, 18, async () => {
    const { version } = await showRecord(life.preparator, life.recordId);
    await sendToReview(contextOf(life.preparator), life.recordId, { version, explanation: null });
  });
  if (story.end === 'in-review') return;
  const curator = person('curator');
  if (story.end === 'returned') {
    on(waited + 3, 11, async () => {
      const { version } = await showRecord(curator, life.recordId);
      await returnRecord(contextOf(curator), life.recordId, {
        version,
        remarks: [{ field: 'wingMm', remark: 'Please measure again: flattened or natural chord?' }],
      });
    });
    return;
  }
  on(waited + 4, 11, async () => {
    const { version } = await showRecord(curator, life.recordId);
    await approveRecord(contextOf(curator), life.recordId, { version, explanations: {} });
  });
}

const PRODUCTS = {
  'skin-with-partial-skeleton': ['skin', 'skeleton'],
  'whole-skeleton': ['skeleton'],
  'spread-wing-with-skin': ['skin', 'wing', 'skeleton'],
} as const;

async function dictate(life: Life, lines: readonly string[]): Promise<void> {
  const entries = lines.flatMap((line) =>
    parseDictation(line).understood.map(({ field, value, unit: _, ...rest }) => ({
      field,
      value: value as never,
      method: rest.method ?? null,
      verbatim: line,
      correction: false,
      clientKey: randomUUID(),
    })),
  );
  await writeEntries(contextOf(life.preparator), life.recordId, { entries } as never);
}

async function splitBones(life: Life): Promise<void> {
  const { version } = await showBoneBook(life.preparator, life.birdId);
  const entries = defaultSplit(life.story.style, { wing: 'right', leg: 'right' });
  await saveBoneBook(contextOf(life.preparator), life.birdId, { version, entries, explanation: null });
}

const BOX = { rows: 9, columns: 9, scheme: 'row-letter' } as const;
const BOXES = { A: ['box1', 'box2'], B: ['boxB1', 'boxB2'] } as const;

/** The next free position of a tissue freezer; vials of records still under review wait to be put away. */
function nextPosition(stage: Stage, { story }: Life, freezer: 'A' | 'B') {
  if (story.end !== 'approved') return null;
  const perBox = BOX.rows * BOX.columns;
  const at = stage.vialsIn[freezer]++;
  const box = BOXES[freezer][Math.floor(at / perBox)];
  const unitId = box === undefined ? undefined : stage.units[box];
  return unitId === undefined ? null : { unitId, position: formatPosition(BOX, at % perBox) };
}

/** Two vials for the first freezer and a duplicate of the muscle for the other. */
async function fill(stage: Stage, life: Life): Promise<void> {
  const vial = { preservation: { kind: 'frozen' }, container: { kind: 'cryovial', volumeMl: 2 } };
  const muscle = { ...vial, tissues: ['muscle', 'heart'] };
  const position = (freezer: 'A' | 'B') => nextPosition(stage, life, freezer);
  await fillVials(contextOf(life.preparator), {
    birdId: life.birdId,
    origin: 'salvaged',
    vials: [
      { ...muscle, amount: { value: 250, unit: 'mg' }, position: position('A') },
      { ...vial, tissues: ['liver'], amount: { value: 180, unit: 'mg' }, position: position('A') },
      { ...muscle, amount: { value: 120, unit: 'mg' }, position: position('B') },
    ],
  } as never);
}
