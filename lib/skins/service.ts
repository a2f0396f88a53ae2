import 'server-only';
import { type Actor, authorise, type CommandContext } from '@/lib/platform/actor';
import { db } from '@/lib/platform/db';
import { type FieldProblem, notValid } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { phrases, say } from '@/lib/platform/words/say';
import {
  beginStep,
  instantOf,
  judgePestFreeze,
  listProcess,
  type Process,
  type ProcessFacts,
  shelve,
  shelvingProblem,
  takeChosen,
} from '@/lib/storage/public';
import type { MovedMaterials, ProcessGroups } from '@/lib/storage/schema';
import { skinEvents } from './events';
import { findSettings } from './repo';
import { canMoveSkin, expectedDaysIn } from './rules';
import {
  type AdvanceSkinsRequest,
  SKIN_KINDS,
  SKIN_STATES,
  type SkinDurations,
  type SkinListQuery,
  type SkinState,
} from './schema';
import { readSkinDurations } from './settings';

const processOf = (durations: SkinDurations): Process => ({
  kinds: SKIN_KINDS,
  states: SKIN_STATES,
  expected: ({ state }) => expectedDaysIn(state as SkinState, durations),
});

/** What dries like a skin, by state, what is overdue first. */
export async function listSkins(actor: Actor, query: SkinListQuery): Promise<ProcessGroups> {
  authorise(actor, 'materials.see');
  const durations = readSkinDurations(await findSettings(db(), actor.collectionId));
  return listProcess(actor, processOf(durations), query);
}

/**
 * Moves skins together to one state; all of them or none.
 * @throws AppError not-valid naming each that cannot go there; conflict where somebody else was quicker.
 */
export async function advanceSkins(
  context: CommandContext,
  request: AdvanceSkinsRequest,
): Promise<MovedMaterials> {
  authorise(context.actor, 'materials.advance');
  return withTx(context, async (work) => {
    const durations = readSkinDurations(await findSettings(work.db, work.actor.collectionId));
    const skins = await takeChosen(work, processOf(durations), request.chosen);
    const when = await instantOf(work, request.doneOn, skins);
    const problems: FieldProblem[] = [];
    for (const skin of skins) {
      const problem = await problemOf(work, skin, request, when.at);
      if (problem !== null) problems.push(problem);
    }
    if (problems.length > 0) throw notValid(say('Nothing was moved on.'), problems);
    for (const skin of skins) {
      if (request.to === 'shelved') await shelve(work, skin, when, request);
      else {
        const next = { step: request.to, name: STEP_NAMES[request.to], state: request.to };
        await beginStep(
          work,
          skin,
          { ...next, expected: expectedDaysIn(request.to, durations) },
          when,
          request,
        );
      }
      work.audit(
        skinEvents.make(
          'skins.moved-on',
          { subjectType: 'material', subjectId: skin.id, birdId: skin.birdId, reason: request.note },
          {
            material: skin.label,
            from: skin.state,
            to: request.to,
            method: request.method ?? null,
            temperatureC: request.temperatureC ?? null,
            doneAt: when.at.toISOString(),
          },
        ),
      );
    }
    return {
      moved: skins.map(({ id, label }) => ({ id, label, state: request.to, step: STEP_NAMES[request.to] })),
    };
  });
}

const STEP_NAMES: Record<SkinState, string> = phrases({
  pinned: 'Pinned',
  drying: 'Drying',
  dry: 'Dry',
  'pest-freeze': 'Pest freeze',
  shelved: 'Shelved',
});

async function problemOf(
  work: Work,
  skin: ProcessFacts,
  { to, place, note }: AdvanceSkinsRequest,
  at: Date,
): Promise<FieldProblem | null> {
  const from = skin.state as SkinState;
  if (!canMoveSkin(from, to)) {
    const message = say('{label} is {step_names} and cannot go to {step_names2} from there.', {
      label: skin.label,
      step_names: STEP_NAMES[from].toLowerCase(),
      step_names2: STEP_NAMES[to].toLowerCase(),
    });
    return { path: 'chosen', message };
  }
  if (to !== 'shelved') return null;
  return shelvingProblem({
    label: skin.label,
    hasPlace: skin.hasPlace || Boolean(place),
    pestFreeze: await judgePestFreeze(work, skin.id, at),
    remarks: [],
    note: note ?? null,
  });
}
