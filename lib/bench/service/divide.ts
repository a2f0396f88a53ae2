import 'server-only';
import { randomUUID } from 'node:crypto';
import type { z } from 'zod';
import { benchEvents } from '@/lib/bench/events';
import { firstStateOf, productProblems } from '@/lib/bench/products';
import { type FoundRecord, findRecord, updateRecord } from '@/lib/bench/repo/records';
import type { MaterialKind } from '@/lib/bench/schema';
import { loadForWriting, subjectOf } from '@/lib/bench/service/open';
import { loadStyle } from '@/lib/bench/service/styles';
import { loadView } from '@/lib/bench/service/view';
import { plainValues, readSnapshot } from '@/lib/bench/snapshot';
import type { BenchRecord } from '@/lib/bench/wire';
import type { divideRequest } from '@/lib/bench/wire-acts';
import { authorise, type CommandContext } from '@/lib/platform/actor';
import { conflict, notValid } from '@/lib/platform/errors';
import { type Work, withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { applyCarcassAct, assignSuffixes } from '@/lib/queue/public';
import { suffixLettersSchema } from '@/lib/queue/schema';
import { changeCustody, createMaterial } from '@/lib/storage/public';

type Products = z.output<typeof divideRequest>['products'];

/**
 * Divides the carcass: each product becomes a material of its own, the carcass is used up, the bird is prepared and
 * has the sex that was determined. Called again later it adds what was forgotten.
 * @throws AppError not-valid when the style asks for a product that is missing
 */
export async function divideCarcass(
  context: CommandContext,
  id: string,
  { products }: z.output<typeof divideRequest>,
): Promise<BenchRecord> {
  const { actor } = context;
  authorise(actor, 'bench.write');
  return withTx(context, async (work) => {
    const record = await loadForWriting(work, id, findRecord);
    if (record.bird.state === 'prepared') return addProducts(work, record, products);
    const carcass = record.bird.materials.find(({ kind }) => kind === 'carcass');
    if (carcass === undefined) throw conflict(say('This bird has no carcass to divide.'));
    const style = await loadStyle(work.db, actor.collectionId, record.styleId, record.styleVersion);
    const vials = record.bird.materials.filter(({ kind }) => kind === 'vial').length;
    const problems = productProblems(style, products, vials);
    if (problems.length > 0) {
      throw notValid(
        say('The carcass was not divided.'),
        problems.map((message) => ({ path: 'products', message })),
      );
    }
    const labels = await makeProducts(work, record, products, carcass.id);
    const sex = plainValues(readSnapshot(record.values)).sex ?? 'undetermined';
    await changeCustody(work, { materialId: carcass.id, from: carcass.custody, to: 'used-up' });
    await applyCarcassAct(work, {
      birdId: record.birdId,
      act: 'finish',
      patch: { sex, claimExpiresAt: null },
    });
    const data = { finishedAt: work.now };
    if ((await updateRecord(work.db, { id, state: record.state }, data)) === 0) {
      throw conflict(say('The record was sent to review a moment ago. Nothing was divided.'));
    }
    work.audit(
      benchEvents.make('bench.divided', subjectOf(record), {
        prepNumber: record.prepNumber,
        products: labels,
        sex,
      }),
    );
    return loadView(work.db, actor, id);
  });
}

async function addProducts(work: Work, record: FoundRecord, products: Products): Promise<BenchRecord> {
  if (products.length === 0) throw conflict(say('The carcass has been divided already.'));
  const parent = record.bird.materials.find(({ kind }) => kind === 'carcass')?.id ?? null;
  const labels = await makeProducts(work, record, products, parent);
  work.audit(
    benchEvents.make('bench.product-added', subjectOf(record), {
      prepNumber: record.prepNumber,
      products: labels,
    }),
  );
  return loadView(work.db, work.actor, record.id);
}

async function makeProducts(
  work: Work,
  record: FoundRecord,
  products: Products,
  parentId: string | null,
): Promise<string[]> {
  const wanted = products.flatMap(({ kind, count, description }) =>
    Array.from({ length: count }, () => ({ id: randomUUID(), kind, description })),
  );
  const suffixes = assignSuffixes(
    [
      ...record.bird.materials.map(({ id, kind, suffix }) => ({ id, kind: kind as MaterialKind, suffix })),
      ...wanted.map(({ id, kind }) => ({ id, kind, suffix: null })),
    ],
    suffixLettersSchema.parse(undefined),
  );
  const labels: string[] = [];
  for (const { id, kind, description } of wanted) {
    const made = await createMaterial(work, {
      birdId: record.birdId,
      parentId,
      kind,
      suffix: suffixes.get(id) ?? '',
      state: firstStateOf(kind),
      description,
    });
    labels.push(made.label);
  }
  return labels;
}
