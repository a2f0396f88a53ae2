import 'server-only';
import { type Actor, authorise, personOf } from '@/lib/platform/actor';
import { dayIn, middayOf, now } from '@/lib/platform/clock';
import { assessStay, dueOnAfter, type ExpectedDays } from '@/lib/platform/days';
import { db } from '@/lib/platform/db';
import { conflict, notFound, notValid } from '@/lib/platform/errors';
import { cutPage, writeCursor } from '@/lib/platform/paging';
import { may } from '@/lib/platform/permissions';
import type { Work } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { advanceMaterial, moveMaterial } from './materials';
import { labelOf, placePath } from './naming';
import { assessPestFreeze, type PestFreezeVerdict } from './pest-freeze';
import {
  countByState,
  endStep,
  findCollection,
  findFreezing,
  findInState,
  findNames,
  insertStep,
  lockMaterials,
  type ProcessMaterial,
  type ProcessScope,
} from './repo/process';
import type { ProcessGroups, ProcessQuery, ProcessRow, StepDetails } from './schema';

/**
 * The common machinery of what is followed from the bench to the shelf (skins drying, skeletons being cleaned): one open
 * step a material, moved on one or many together. What may follow what is the stage's own rule.
 */
export type Process = {
  kinds: readonly string[];
  /** In the order of the work; the first counts for a material that has begun no step. */
  states: readonly [string, ...string[]];
  /** Expected days of the step a material is in; null where nothing is due. */
  expected: (place: {
    state: string;
    step: string | null;
    procedureId: string | null;
  }) => ExpectedDays | null;
};

/** What the rules of a stage need of one material. */
export type ProcessFacts = {
  id: string;
  label: string;
  kind: string;
  birdId: string;
  state: string;
  hasPlace: boolean;
  /** The step begun last: the open one, or the one in which the process ended. Null before any was begun. */
  latest: {
    id: string;
    step: string;
    name: string;
    procedureId: string | null;
    startedAt: Date;
    endedAt: Date | null;
  } | null;
  /** As the database has it. */
  storedState: string | null;
};

const ownersOf = ({ bird }: ProcessMaterial) => [
  bird.bench?.preparatorId,
  bird.bench?.scribeId,
  bird.claimedById,
];

/** Materials by state, what is overdue first. Without a state in the query the beginning of each that is not yet the end. */
export async function listProcess(
  actor: Actor,
  process: Process,
  query: ProcessQuery,
): Promise<ProcessGroups> {
  authorise(actor, 'materials.see');
  const collection = await findCollection(db(), actor.collectionId);
  const today = dayIn(collection.timeZone, now());
  const [firstState] = process.states;
  const scope: ProcessScope = {
    collectionId: actor.collectionId,
    timeZone: collection.timeZone,
    today,
    kinds: process.kinds,
    firstState,
    firstDays: process.expected({ state: firstState, step: null, procedureId: null })?.max ?? 0,
  };
  const counts = await countByState(scope, query.q);
  const wanted = process.states.filter((state) =>
    query.state === undefined ? state !== 'shelved' : state === query.state,
  );
  const pages = await Promise.all(
    wanted.map(async (state) => ({
      state,
      ...cutPage(await findInState(scope, { ...query, state }), query.size, (row) =>
        writeCursor([row.sortAt.toISOString(), row.id]),
      ),
    })),
  );
  const names = await findNames(
    db(),
    pages.flatMap(({ rows }) => rows.flatMap(({ steps }) => steps.map(({ byId }) => byId))),
  );
  const toRow = rowMaker(actor, process, scope, names);
  return {
    today,
    groups: pages.map(({ state, rows, next }) => {
      const count = counts.find((one) => one.state === state);
      return { state, total: count?.total ?? 0, overdue: count?.overdue ?? 0, rows: rows.map(toRow), next };
    }),
  };
}

function rowMaker(actor: Actor, process: Process, scope: ProcessScope, names: Map<string, string>) {
  return (material: ProcessMaterial): ProcessRow => {
    const [latest = null] = material.steps;
    const state = material.state ?? scope.firstState;
    const expected = process.expected({
      state,
      step: latest?.step ?? null,
      procedureId: latest?.procedureId ?? null,
    });
    const enteredOn = dayIn(scope.timeZone, latest?.startedAt ?? material.createdAt);
    const counted = latest === null && state === scope.firstState ? expected : null;
    const dueOn = counted ? dueOnAfter(enteredOn, counted) : dayOrNull(scope.timeZone, latest?.dueAt);
    return {
      id: material.id,
      label: labelOf(material),
      kind: material.kind,
      birdId: material.birdId,
      scientificName: material.bird.taxon?.scientificName ?? material.bird.salvage.verbatimTaxon,
      commonName: material.bird.taxon?.commonName ?? null,
      state,
      step:
        latest === null
          ? null
          : {
              id: latest.id,
              step: latest.step,
              name: latest.name,
              procedureId: latest.procedureId,
              method: latest.method,
              startedAt: latest.startedAt.toISOString(),
              by: names.get(latest.byId) ?? say('somebody who left'),
            },
      stay: assessStay({ enteredOn, dueOn, minDays: expected?.min ?? 0 }, scope.today),
      place: placePath(material.placement),
      abilities: {
        advance:
          material.custody === 'on-shelf' &&
          may(actor, 'materials.advance', { ownerIds: ownersOf(material) }),
      },
    };
  };
}

/**
 * Locks the chosen materials and makes sure that each may be moved on by this actor and still is in the step that the
 * person saw.
 * @throws AppError not-found, forbidden or conflict; nothing is changed.
 */
export async function takeChosen(
  work: Work,
  process: Process,
  chosen: StepDetails['chosen'],
): Promise<ProcessFacts[]> {
  const { actor } = work;
  const seen = new Map(chosen.map(({ materialId, stepId }) => [materialId, stepId]));
  const found = await lockMaterials(work.db, actor.collectionId, [...seen.keys()], process.kinds);
  if (found.length !== seen.size) throw notFound(say('One of the chosen materials'));
  return found.map((material) => {
    authorise(actor, 'materials.advance', { ownerIds: ownersOf(material) });
    const label = labelOf(material);
    const [latest = null] = material.steps;
    if ((latest?.id ?? null) !== seen.get(material.id)) {
      throw conflict(
        say(
          '{label} was moved on by somebody else a moment ago. Nothing was changed; look again and choose anew.',
          { label },
        ),
      );
    }
    if (material.custody !== 'on-shelf')
      throw conflict(say('{label} is {replace}.', { label, replace: material.custody.replace('-', ' ') }));
    return {
      id: material.id,
      label,
      kind: material.kind,
      birdId: material.birdId,
      state: material.state ?? process.states[0],
      storedState: material.state,
      hasPlace: material.placement !== null,
      latest,
    };
  });
}

/**
 * The instant of what was done on a day: now for today, else the middle of that day.
 * @throws AppError not-valid for a day to come, or before the step that it ends.
 */
export async function instantOf(
  work: Work,
  doneOn: string | null | undefined,
  materials: readonly ProcessFacts[],
): Promise<{ at: Date; timeZone: string }> {
  const { timeZone } = await findCollection(work.db, work.actor.collectionId);
  const today = dayIn(timeZone, work.now);
  const day = doneOn ?? today;
  if (day > today)
    throw notValid(say('This day has not come yet.'), [
      { path: 'doneOn', message: say('Not a day to come.') },
    ]);
  for (const { label, latest } of materials) {
    if (latest !== null && dayIn(timeZone, latest.startedAt) > day) {
      const message = say('{label} came into its present step later than that, on {dayIn}.', {
        label,
        dayIn: dayIn(timeZone, latest.startedAt),
      });
      throw notValid(message, [{ path: 'doneOn', message }]);
    }
  }
  const begun = materials.map(({ latest }) => latest?.startedAt.getTime() ?? 0);
  const at = day === today ? work.now : middayOf(timeZone, day);
  return { at: new Date(Math.max(at.getTime(), ...begun)), timeZone };
}

export type NextStep = {
  step: string;
  name: string;
  state: string;
  procedureId?: string | null;
  expected: ExpectedDays | null;
};

/** Ends the open step and begins the next. The caller has asked its transition table and writes its own event. */
export async function beginStep(
  work: Work,
  material: ProcessFacts,
  next: NextStep,
  when: { at: Date; timeZone: string },
  details: Pick<StepDetails, 'method' | 'note' | 'temperatureC' | 'place'>,
): Promise<void> {
  await closeOpen(work, material, when.at);
  if (material.storedState !== next.state) {
    await advanceMaterial(work, { materialId: material.id, from: material.storedState, to: next.state });
  }
  await insertStep(work.db, {
    materialId: material.id,
    step: next.step,
    name: next.name,
    state: next.state,
    procedureId: next.procedureId ?? null,
    method: details.method ?? null,
    temperatureC: details.temperatureC ?? null,
    note: details.note ?? null,
    startedAt: when.at,
    dueAt: next.expected === null ? null : dueInstant(when, next.expected),
    byId: personOf(work.actor),
  });
  await putAway(work, material, details, next.name);
}

/** Ends the process: the material is on the shelf from now on. */
export async function shelve(
  work: Work,
  material: ProcessFacts,
  when: { at: Date },
  details: Pick<StepDetails, 'method' | 'note' | 'place'>,
): Promise<void> {
  await closeOpen(work, material, when.at);
  await advanceMaterial(work, { materialId: material.id, from: material.storedState, to: 'shelved' });
  await insertStep(work.db, {
    materialId: material.id,
    step: 'shelved',
    name: say('Shelved'),
    state: 'shelved',
    procedureId: material.latest?.procedureId ?? null,
    method: details.method ?? null,
    note: details.note ?? null,
    startedAt: when.at,
    endedAt: when.at,
    byId: personOf(work.actor),
  });
  await putAway(work, material, details, say('Shelved'));
}

/** Whether the material was long and cold enough in the pest freezer; a run that is not ended lasts until `at`. */
export async function judgePestFreeze(work: Work, materialId: string, at: Date): Promise<PestFreezeVerdict> {
  const runs = await findFreezing(work.db, materialId);
  return assessPestFreeze(
    runs.map((run) => ({
      startedAt: run.startedAt.toISOString(),
      endedAt: (run.endedAt ?? at).toISOString(),
      temperatureC: run.temperatureC,
    })),
  );
}

const dayOrNull = (timeZone: string, at: Date | null | undefined): string | null =>
  at ? dayIn(timeZone, at) : null;

async function closeOpen(work: Work, { latest, label }: ProcessFacts, at: Date): Promise<void> {
  if (latest?.endedAt === null && (await endStep(work.db, latest.id, at)) === 0) {
    throw conflict(say('{label} was moved on by somebody else a moment ago. Reload and look.', { label }));
  }
}

async function putAway(
  work: Work,
  material: ProcessFacts,
  { place }: Pick<StepDetails, 'place'>,
  reason: string,
): Promise<void> {
  if (place) await moveMaterial(work, { materialId: material.id, to: place, reason });
}

/** The end of the longest expected time, not before the beginning. */
function dueInstant({ at, timeZone }: { at: Date; timeZone: string }, expected: ExpectedDays): Date {
  const due = middayOf(timeZone, dueOnAfter(dayIn(timeZone, at), expected));
  return new Date(Math.max(due.getTime(), at.getTime()));
}
