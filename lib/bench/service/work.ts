import 'server-only';
import type { z } from 'zod';
import { checkRecord } from '@/lib/bench/checks';
import { overrides, reviewRemarks, stepsDone } from '@/lib/bench/documents';
import { benchEvents } from '@/lib/bench/events';
import { FIELDS, isFieldId } from '@/lib/bench/fields';
import { checkContextOf } from '@/lib/bench/peers';
import {
  findBareRecord,
  findColleagues,
  findNames,
  findRecord,
  updateRecord,
  writeDocument,
} from '@/lib/bench/repo/records';
import { loadComparison } from '@/lib/bench/service/comparison';
import { loadForWriting, subjectOf } from '@/lib/bench/service/open';
import { loadStyle } from '@/lib/bench/service/styles';
import { loadView } from '@/lib/bench/service/view';
import { plainValues, readSnapshot } from '@/lib/bench/snapshot';
import type { BenchRecord } from '@/lib/bench/wire';
import type {
  overrideRequest,
  remarkAnswerRequest,
  scribeRequest,
  stepRequest,
  styleRequest,
} from '@/lib/bench/wire-acts';
import { authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { conflict, notFound, notValid, staleVersion } from '@/lib/platform/errors';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';

const OPEN = ['draft', 'returned'] as const;
const closedMeanwhile = () =>
  conflict(say('The record was sent to review a moment ago. Nothing was changed.'));

/** Marks a step of the preparation as done, or as not done after all. Clocks run by the steps. */
export async function markStep(
  context: CommandContext,
  id: string,
  { step, done, waitedMs }: z.output<typeof stepRequest>,
): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    const record = await loadForWriting(work, id, findBareRecord);
    const style = await loadStyle(work.db, actor.collectionId, record.styleId, record.styleVersion);
    const known = style.steps.find((one) => one.id === step);
    if (known === undefined) {
      throw notValid(say('Nothing was marked.'), [
        { path: 'step', message: say('This style has no such step.') },
      ]);
    }
    const steps = stepsDone.parse(record.stepsDone);
    if ((steps[step] !== undefined) === done) return loadView(work.db, actor, id);
    const { [step]: _, ...others } = steps;
    const at = new Date(work.now.getTime() - waitedMs).toISOString();
    const next = done ? { ...others, [step]: { at, by: personOf(actor) } } : others;
    if ((await writeDocument(work.db, { id, states: OPEN }, 'stepsDone', next)) === 0)
      throw closedMeanwhile();
    work.audit(
      benchEvents.make('bench.step-marked', subjectOf(record), {
        prepNumber: record.prepNumber,
        step: known.label,
        done,
      }),
    );
    return loadView(work.db, actor, id);
  });
}

/**
 * Explains a warning, so that it stays visible with its reason and no longer asks; a null reason takes it back.
 * @throws AppError not-valid when the record has no such warning now
 */
export async function explainWarning(
  context: CommandContext,
  id: string,
  { key, reason }: z.output<typeof overrideRequest>,
): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    const record = await loadForWriting(work, id, findRecord);
    const explained = overrides.parse(record.overrides);
    if ((explained[key]?.reason ?? null) === reason) return loadView(work.db, actor, id);
    const values = plainValues(readSnapshot(record.values));
    const against = await loadComparison(work.db, record);
    const warning = checkRecord(values, checkContextOf(values, against)).find((one) => one.key === key);
    if (warning === undefined && reason !== null) {
      throw notValid(say('Nothing was explained.'), [
        { path: 'key', message: say('This warning is gone: the figure has changed since.') },
      ]);
    }
    const { [key]: before, ...others } = explained;
    const next =
      reason === null
        ? others
        : { ...others, [key]: { reason, at: work.now.toISOString(), by: personOf(actor) } };
    if ((await writeDocument(work.db, { id, states: OPEN }, 'overrides', next)) === 0)
      throw closedMeanwhile();
    work.audit(
      benchEvents.make(
        reason === null ? 'bench.explanation-withdrawn' : 'bench.warning-explained',
        subjectOf(record, reason ?? before?.reason),
        {
          prepNumber: record.prepNumber,
          field: warning === undefined ? '' : FIELDS[warning.field].label,
          warning: warning?.sentence ?? key,
        },
      ),
    );
    return loadView(work.db, actor, id);
  });
}

/** Prepares the bird in another style, by the newest version of its steps. Steps done keep their marks. */
export async function changeStyle(
  context: CommandContext,
  id: string,
  { styleId, version }: z.output<typeof styleRequest>,
): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    const record = await loadForWriting(work, id, findRecord);
    if (record.bird.state !== 'on-the-bench') {
      throw conflict(say('The carcass has been divided already; its style cannot change any more.'));
    }
    const from = await loadStyle(work.db, actor.collectionId, record.styleId, record.styleVersion);
    const to = await loadStyle(work.db, actor.collectionId, styleId);
    if (from.id === to.id && from.version === to.version) return loadView(work.db, actor, id);
    const changed = await updateRecord(
      work.db,
      { id, state: record.state, version },
      { styleId: to.id, styleVersion: to.version },
    );
    if (changed === 0) throw staleVersion(say('This record'), { version: record.version });
    work.audit(
      benchEvents.make('bench.style-changed', subjectOf(record), {
        prepNumber: record.prepNumber,
        from: from.label,
        to: to.label,
      }),
    );
    return loadView(work.db, actor, id);
  });
}

/** Names who writes while the preparator works; the scribe may then write in the record too. */
export async function changeScribe(
  context: CommandContext,
  id: string,
  { personId }: z.output<typeof scribeRequest>,
): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    const record = await loadForWriting(work, id, findBareRecord);
    if (record.scribeId === personId) return loadView(work.db, actor, id);
    const people = await findColleagues(work.db, actor.collectionId);
    const scribe = people.find((one) => one.id === personId) ?? null;
    if (personId !== null && scribe === null) throw notFound(say('This colleague'));
    if (personId === record.preparatorId) {
      throw notValid(say('Nothing was changed.'), [
        { path: 'personId', message: say('The preparator needs no scribe of the same name.') },
      ]);
    }
    const names = await findNames(work.db, [record.scribeId]);
    if ((await updateRecord(work.db, { id, state: record.state }, { scribeId: personId })) === 0) {
      throw closedMeanwhile();
    }
    work.audit(
      benchEvents.make('bench.scribe-changed', subjectOf(record), {
        prepNumber: record.prepNumber,
        from: record.scribeId === null ? null : (names.get(record.scribeId) ?? null),
        to: scribe?.name ?? null,
      }),
    );
    return loadView(work.db, actor, id);
  });
}

/** Says what was done about a reviewer's remark. */
export async function answerRemark(
  context: CommandContext,
  id: string,
  { remarkId, text }: z.output<typeof remarkAnswerRequest>,
): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    const record = await loadForWriting(work, id, findBareRecord);
    const remarks = reviewRemarks.parse(record.reviewRemarks);
    const remark = remarks.find((one) => one.id === remarkId);
    if (remark === undefined) throw notFound(say('This remark'));
    if (remark.answer?.text === text) return loadView(work.db, actor, id);
    const answer = { text, at: work.now.toISOString(), by: personOf(actor) };
    const next = remarks.map((one) => (one.id === remarkId ? { ...one, answer } : one));
    if ((await writeDocument(work.db, { id, states: OPEN }, 'reviewRemarks', next)) === 0) {
      throw closedMeanwhile();
    }
    work.audit(
      benchEvents.make('bench.remark-answered', subjectOf(record), {
        prepNumber: record.prepNumber,
        field: isFieldId(remark.field) ? FIELDS[remark.field].label : remark.field,
        remark: remark.remark,
        answer: text,
      }),
    );
    return loadView(work.db, actor, id);
  });
}
