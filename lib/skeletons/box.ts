import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict, notFound, staleVersion } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { labelOf } from '@/lib/storage/public';
import { boneBookVerdict, storedBook } from './book';
import { skeletonEvents } from './events';
import {
  answerEarlier,
  answerQuestion,
  type BoxMaterial,
  findNames,
  findQuestion,
  findQuestions,
  findSkeleton,
  insertCount,
  raiseSkeleton,
} from './repo';
import { type BoxLine, compareBoxCount, openQuestions } from './rules/boxing';
import type { SkeletonState } from './rules/cleaning';
import {
  type BoneQuestion,
  type BoxCountLine,
  boxCountLineSchema,
  type SaveBoxCountRequest,
  type SkeletonDetail,
} from './schema';
import { findProcedures } from './service';
import { profileFor } from './taxa';

const COUNTABLE: readonly SkeletonState[] = ['dry', 'pest-freeze', 'counted', 'shelved'];
const COUNTED_AGAIN = 'Counted again; see the later count.';
const LEFT = 'somebody who left';

/** A skeleton's procedure, its box against the bone book, and its questions. */
export async function showSkeleton(actor: Actor, id: string): Promise<SkeletonDetail> {
  authorise(actor, 'materials.see');
  return loadDetail(db(), actor, id);
}

/**
 * Keeps the count made at boxing and opens a question for every difference from the bone book; the book stays as it is.
 * Questions of an earlier count are closed, for the new one asks them again where they still stand.
 */
export async function countBox(
  context: CommandContext,
  id: string,
  request: SaveBoxCountRequest,
): Promise<SkeletonDetail> {
  const { actor } = context;
  authorise(actor, 'materials.advance');
  return withTx(context, async (work) => {
    const skeleton = await loadSkeleton(work.db, actor, id);
    authorise(actor, 'materials.advance', { ownerIds: ownersOf(skeleton) });
    if (!COUNTABLE.includes(skeleton.state as SkeletonState)) {
      throw conflict(
        say('{labelOf} is not dry yet; bones are counted when they are boxed.', {
          labelOf: labelOf(skeleton),
        }),
      );
    }
    if ((await raiseSkeleton(work.db, id, request.version)) === 0) {
      throw staleVersion(say('This skeleton'), await loadDetail(work.db, actor, id));
    }
    const counter = personOf(actor);
    const compared = compareWithBook(skeleton, request.lines);
    await answerEarlier(work.db, id, {
      answer: COUNTED_AGAIN,
      answeredById: counter,
      answeredAt: work.now,
    });
    await insertCount(work.db, {
      materialId: id,
      lines: request.lines,
      note: request.note ?? null,
      countedById: counter,
      countedAt: work.now,
      questions: compared.flatMap(({ question, expected, ...line }) =>
        question === null
          ? []
          : [
              {
                element: line.element,
                side: line.side,
                verdict: line.verdict,
                counted: line.counted,
                expectedMin: expected.min,
                expectedMax: expected.max,
                question,
              },
            ],
      ),
    });
    work.audit(
      skeletonEvents.make(
        'skeletons.box-counted',
        { subjectType: 'material', subjectId: id, birdId: skeleton.birdId, reason: request.note },
        {
          material: labelOf(skeleton),
          pieces: request.lines.reduce((sum, { count }) => sum + count, 0),
          questions: openQuestions(compared),
        },
      ),
    );
    return loadDetail(work.db, actor, id);
  });
}

/** Closes a question of a count with what was found out. */
export async function answerBoneQuestion(
  context: CommandContext,
  id: string,
  { answer }: { answer: string },
): Promise<SkeletonDetail> {
  const { actor } = context;
  authorise(actor, 'materials.advance');
  return withTx(context, async (work) => {
    const found = await findQuestion(work.db, actor.collectionId, id);
    if (found === null) throw notFound(say('This question'));
    const { material } = found.count;
    authorise(actor, 'materials.advance', { ownerIds: ownersOf(material) });
    const answered = { answer, answeredById: personOf(actor), answeredAt: work.now };
    if ((await answerQuestion(work.db, id, answered)) === 0) {
      throw conflict(say('Somebody else answered this question a moment ago. Reload and look.'));
    }
    work.audit(
      skeletonEvents.make(
        'skeletons.question-answered',
        { subjectType: 'material', subjectId: material.id, birdId: material.birdId },
        { material: labelOf(material), question: found.question, answer },
      ),
    );
    return loadDetail(work.db, actor, material.id);
  });
}

const ownersOf = ({
  bird,
}: {
  bird: { claimedById: string | null; bench: { preparatorId: string; scribeId: string | null } | null };
}) => [bird.bench?.preparatorId, bird.bench?.scribeId, bird.claimedById];

async function loadSkeleton(tx: Tx, actor: Actor, id: string): Promise<BoxMaterial> {
  const skeleton = await findSkeleton(tx, actor.collectionId, id);
  if (skeleton === null) throw notFound(say('This skeleton'));
  return skeleton;
}

/** Entries that say they went into another material of the bird are not looked for in this box. */
function compareWithBook(skeleton: BoxMaterial, lines: readonly BoxCountLine[]): BoxLine[] {
  const book = storedBook(skeleton.bird);
  const here = book.entries.filter(({ materialId }) => materialId === null || materialId === skeleton.id);
  return compareBoxCount(here, lines, profileFor(book.taxon));
}

async function loadDetail(tx: Tx, actor: Actor, id: string): Promise<SkeletonDetail> {
  const skeleton = await loadSkeleton(tx, actor, id);
  const procedures = await findProcedures(tx, actor.collectionId);
  const questions = await findQuestions(tx, id);
  const [last = null] = skeleton.boxCounts;
  const [latest = null] = skeleton.steps;
  const names = await findNames([
    last?.countedById ?? null,
    ...questions.map(({ answeredById }) => answeredById),
  ]);
  const advance =
    skeleton.custody === 'on-shelf' && may(actor, 'materials.advance', { ownerIds: ownersOf(skeleton) });
  const state = (skeleton.state ?? 'rough-cleaned') as SkeletonState;
  const lines = last === null ? [] : boxCountLineSchema.array().parse(last.lines);
  const procedure = procedures.find((one) => one.id === latest?.procedureId);
  return {
    id,
    label: labelOf(skeleton),
    birdId: skeleton.birdId,
    version: skeleton.version,
    state,
    stepId: latest?.id ?? null,
    step: latest?.step ?? null,
    procedure: procedure ?? null,
    procedures,
    box: compareWithBook(skeleton, lines),
    bookBalanced: boneBookVerdict(storedBook(skeleton.bird)).balanced,
    lastCount:
      last === null
        ? null
        : {
            at: last.countedAt.toISOString(),
            by: names.get(last.countedById) ?? LEFT,
            note: last.note,
          },
    questions: questions.map(
      (one): BoneQuestion => ({
        id: one.id,
        element: one.element as BoneQuestion['element'],
        side: one.side as BoneQuestion['side'],
        question: one.question,
        askedAt: one.count.countedAt.toISOString(),
        answer: one.answer,
        answeredAt: one.answeredAt?.toISOString() ?? null,
        answeredBy: one.answeredById === null ? null : (names.get(one.answeredById) ?? LEFT),
      }),
    ),
    abilities: { advance, count: advance && COUNTABLE.includes(state) },
  };
}
