import { makeAccession } from '@/lib/accessions/service';
import { db } from '@/lib/platform/db';
import { showChoices } from '@/lib/queue/choices';
import { solvePlan } from '@/lib/queue/plan-solve';
import { planRequest } from '@/lib/queue/plan-wire';
import { askPlan, showPlan } from '@/lib/queue/plans';
import { signSkill } from '@/lib/queue/skills';
import { showBoneBook } from '@/lib/skeletons/book';
import { countBox, showSkeleton } from '@/lib/skeletons/box';
import { showProcedures } from '@/lib/skeletons/procedures';
import { defaultSplit } from '@/lib/skeletons/rules/split';
import { chooseProcedure } from '@/lib/skeletons/service';
import { contextOf, makeBird } from '@/seed/factories';
import { makeBenchBird, makeMaterial } from '@/seed/factories/prepared';
import { dayFromNow, type Example, type Examples, idOf, type Lab, need } from './lab';

const STYLE = 'skin-with-partial-skeleton';
const curator = (lab: Lab) => contextOf(lab.as.curator);

const claimed = (lab: Lab) =>
  makeBird(db(), lab.collectionId, { birdState: 'claimed', claimedById: idOf(lab.as.preparator) });

const onBird = async (lab: Lab, bird: Promise<{ id: string; version: number }>, more: object) => {
  const { id, version } = await bird;
  return { as: lab.as.preparator, params: { id }, body: { version, ...more } };
};

const day = (lab: Lab, days: number) => ({
  planOn: dayFromNow(days),
  people: [{ personId: idOf(lab.as.preparator), fromMinute: 540, untilMinute: 1020 }],
  benchPlaces: 6,
  seconds: 1,
});

async function asked(lab: Lab, days: number) {
  await makeBird(db(), lab.collectionId);
  return askPlan(curator(lab), planRequest.parse(day(lab, days)));
}

async function proposed(lab: Lab, days: number) {
  await signSkill(curator(lab), {
    personId: idOf(lab.as.preparator),
    style: STYLE,
    sizeClass: 'medium',
    level: 'alone',
  });
  const { id } = await asked(lab, days);
  await solvePlan(id, lab.collectionId);
  return showPlan(lab.as.curator, id);
}

async function material(lab: Lab, kind: 'skin' | 'skeleton', state: string) {
  const bird = await makeBenchBird(db(), lab.collectionId, { preparatorId: idOf(lab.as.preparator) });
  return makeMaterial(db(), { collectionId: lab.collectionId, birdId: bird.id, kind, state });
}

const moving = async (lab: Lab, of: Promise<{ id: string }>, more: object): Promise<Example> => ({
  as: lab.as.preparator,
  body: { chosen: [{ materialId: (await of).id, stepId: null }], ...more },
});

/** A counted skeleton with the bones that its box must hold. */
async function counted(lab: Lab) {
  const { id, birdId } = await material(lab, 'skeleton', 'counted');
  const entries = defaultSplit(STYLE, { wing: 'right', leg: 'right' });
  await db().boneEntry.createMany({ data: entries.map((one) => ({ ...one, birdId, materialId: null })) });
  return showSkeleton(lab.as.preparator, id);
}

async function questioned(lab: Lab): Promise<string> {
  const { id, version, box } = await counted(lab);
  const lines = box.slice(1).map(({ element, side, expected }) => ({ element, side, count: expected.min }));
  const { questions } = await countBox(contextOf(lab.as.preparator), id, { version, lines });
  return need(questions[0], 'question').id;
}

export const QUEUE: Examples = {
  'POST api/queue/enqueue': async (lab) => {
    const bird = await makeBird(db(), lab.collectionId, { birdState: 'in-freezer' });
    await makeAccession(contextOf(lab.as.registrar), {
      kind: 'salvage',
      source: 'Test donors',
      receivedOn: '2025-05-01',
      salvageIds: [bird.salvageId],
    });
    return { as: lab.as.preparator, body: { birdIds: [bird.id], style: STYLE, sizeClass: 'small' } };
  },
  'POST api/queue/[id]/take': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await makeBird(db(), lab.collectionId)).id },
    body: {},
  }),
  'POST api/queue/[id]/take-out': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await claimed(lab)).id },
    body: {},
  }),
  'POST api/queue/[id]/put-back': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await claimed(lab)).id },
    body: { reason: 'no time today' },
  }),
  'POST api/queue/[id]/hand-over': async (lab) => ({
    as: lab.as.preparator,
    params: { id: (await claimed(lab)).id },
    body: { toPersonId: idOf(lab.as.curator), reason: 'holidays' },
  }),
  'POST api/queue/[id]/co-work': (lab) => onBird(lab, claimed(lab), { withPersonId: idOf(lab.as.curator) }),
  'POST api/queue/[id]/request': (lab) =>
    onBird(lab, makeBird(db(), lab.collectionId), { urgency: 'soon', reason: 'gap in the series' }),
  'POST api/queue/[id]/dispose': (lab) =>
    onBird(lab, makeBird(db(), lab.collectionId), {
      act: 'discard',
      on: '2025-06-01',
      method: 'incinerated',
      witness: 'Test registrar',
      reason: 'not wanted',
    }),
  'POST api/queue/plan': async (lab) => {
    await makeBird(db(), lab.collectionId);
    return { as: lab.as.curator, body: day(lab, 1) };
  },
  'POST api/queue/plan/[id]/change': async (lab) => {
    const { id, version } = await proposed(lab, 2);
    const { planOn: _, ...rest } = day(lab, 2);
    return { as: lab.as.curator, params: { id }, body: { ...rest, benchPlaces: 5, version } };
  },
  'POST api/queue/plan/[id]/in-force': async (lab) => {
    const { id, version } = await proposed(lab, 3);
    return { as: lab.as.curator, params: { id }, body: { version } };
  },
  'POST api/queue/plan/[id]/set-aside': async (lab) => ({
    as: lab.as.curator,
    params: { id: (await proposed(lab, 4)).id },
    body: {},
  }),
  'POST api/queue/plan/[id]/stop': async (lab) => ({
    as: lab.as.curator,
    params: { id: (await asked(lab, 5)).id },
    body: {},
  }),
  'POST api/queue/settings': async (lab) => {
    const { choices: from } = await showChoices(lab.as.curator);
    const to = { ...from, claims: { ...from.claims, claimDays: 10 } };
    return { as: lab.as.curator, body: { from, to } };
  },
  'POST api/queue/skills': async (lab) => ({
    as: lab.as.curator,
    body: { personId: idOf(lab.as.volunteer), style: STYLE, sizeClass: 'medium', level: 'training' },
  }),
  'POST api/skins/advance': (lab) => moving(lab, material(lab, 'skin', 'pinned'), { to: 'drying' }),
  'POST api/skeletons/procedure': (lab) =>
    moving(lab, material(lab, 'skeleton', 'rough-cleaned'), { procedureId: 'enzymes' }),
  'POST api/skeletons/advance': async (lab) => {
    const { id } = await material(lab, 'skeleton', 'rough-cleaned');
    await chooseProcedure(contextOf(lab.as.preparator), {
      chosen: [{ materialId: id, stepId: null }],
      procedureId: 'enzymes',
    });
    const step = await db().processStep.findFirstOrThrow({ where: { materialId: id, endedAt: null } });
    return {
      as: lab.as.preparator,
      body: { chosen: [{ materialId: id, stepId: step.id }], to: 'next' },
    };
  },
  'POST api/skeletons/[id]/count': async (lab) => {
    const { id, version, box } = await counted(lab);
    const lines = box.map(({ element, side, expected }) => ({ element, side, count: expected.min }));
    return { as: lab.as.preparator, params: { id }, body: { version, lines } };
  },
  'POST api/skeletons/questions/[id]/answer': async (lab) => ({
    as: lab.as.preparator,
    params: { id: await questioned(lab) },
    body: { answer: 'It was in the vial of small bones.' },
  }),
  'POST api/skeletons/bones/[birdId]': async (lab) => {
    const { id } = await makeBenchBird(db(), lab.collectionId, { preparatorId: idOf(lab.as.preparator) });
    const { version } = await showBoneBook(lab.as.preparator, id);
    const entries = defaultSplit(STYLE, { wing: 'right', leg: 'right' });
    return { as: lab.as.preparator, params: { birdId: id }, body: { version, entries } };
  },
  'POST api/skeletons/procedures': async (lab) => {
    const { stamp, procedures } = await showProcedures(lab.as.curator);
    const slower = procedures.map((one) => ({ ...one, name: `${one.name}, slowly` }));
    return { as: lab.as.curator, body: { stamp, procedures: slower, reason: 'Slow winter.' } };
  },
};
