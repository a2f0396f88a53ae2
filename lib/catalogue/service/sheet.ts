import 'server-only';
import { z } from 'zod';
import type { Actor } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { may } from '@/lib/platform/permissions';
import { placeDetail, seesApprovedOnly } from '../policy';
import { findTaxonNames, type SheetBird } from '../repo/record';
import { findNames } from '../repo/review';
import { stageOf } from '../rules';
import { earlierValues } from '../rules/earlier';
import { QUALIFIERS, reviewStateSchema, sexSchema } from '../schema';
import { benchFields, materialOf, originOf, readHeld } from '../shapes';
import type { CatalogueRecord } from '../wire';

const explainedPoints = z.object({
  explained: z.array(z.object({ point: z.string(), explanation: z.string() })).default([]),
});
const qualifierOf = (text: string | null | undefined) =>
  z
    .enum(QUALIFIERS)
    .nullable()
    .catch(null)
    .parse(text ?? null);
const LEFT = 'somebody who left';

/** What a specimen sheet shows of a loaded bird, as far as this reader may see. */
export async function sheetOf(tx: Tx, actor: Actor, bird: SheetBird): Promise<CatalogueRecord> {
  const { bench, catalogue, taxon } = bird;
  const seesStaffWork = !seesApprovedOnly(actor);
  const values = bench === null ? new Map() : readHeld(bench.values);
  const names = await findNames(tx, [
    bench?.preparatorId ?? null,
    catalogue?.approvedById ?? null,
    ...(catalogue?.amendments ?? []).map(({ amendedById }) => amendedById),
    ...(bench?.entries ?? []).map(({ enteredById }) => enteredById),
    ...[...values.values()].map(({ by }) => by ?? null),
  ]);
  const taxa = await findTaxonNames(
    tx,
    bird.determinations.map(({ taxonId }) => taxonId),
  );
  const age = values.get('age')?.value;
  const fields = bench === null ? [] : benchFields(bench.values, seesStaffWork ? bench.entries : [], names);
  const amendments = (catalogue?.amendments ?? []).map((one) => ({
    id: one.id,
    field: one.field,
    before: one.before as CatalogueRecord['amendments'][number]['before'],
    after: one.after as CatalogueRecord['amendments'][number]['after'],
    reason: one.reason,
    at: one.amendedAt.toISOString(),
    by: names.get(one.amendedById) ?? LEFT,
  }));
  const mayAmend = catalogue !== null && may(actor, 'catalogue.amend');
  return {
    birdId: bird.id,
    number: bird.number,
    catalogueNumber: catalogue?.number ?? null,
    prepNumber: bench?.prepNumber ?? null,
    stage: stageOf({
      carcassState: bird.state,
      benchState: bench?.state ?? null,
      isCatalogued: catalogue !== null,
      disposition: bird.disposition,
    }),
    scientificName: taxon?.scientificName ?? bird.salvage.verbatimTaxon,
    qualifier: qualifierOf(bird.determinations.find(({ current }) => current)?.qualifier),
    commonName: taxon?.commonName ?? null,
    familyName: taxon?.familyName ?? null,
    sex: sexSchema.parse(bird.sex),
    age: typeof age === 'string' ? age : null,
    styleId: bench?.styleId ?? bird.styleId,
    preparator: bench === null ? null : (names.get(bench.preparatorId) ?? LEFT),
    preparedOn: bird.index?.preparedOn ? dayOf(bird.index.preparedOn) : null,
    approvedAt: catalogue?.approvedAt.toISOString() ?? null,
    approvedBy: catalogue === null ? null : (names.get(catalogue.approvedById) ?? LEFT),
    benchId: seesStaffWork ? (bench?.id ?? null) : null,
    benchState: bench === null ? null : reviewStateSchema.parse(bench.state),
    origin: originOf(bird.salvage, placeDetail(actor, taxon?.sensitive === true)),
    fields,
    explained: explainedPoints.parse(catalogue?.approved ?? {}).explained,
    bones: bird.bones.map(({ element, side, portion, state, place }) => ({
      element,
      side,
      portion,
      state,
      place,
    })),
    materials: bird.materials.map((material) => materialOf(material, bird, may(actor, 'storage.see'))),
    determinations: bird.determinations.map((one) => ({
      id: one.id,
      name: (one.taxonId === null ? null : taxa.get(one.taxonId)) ?? one.verbatim,
      verbatim: one.verbatim,
      qualifier: qualifierOf(one.qualifier),
      determinedBy: one.determinedBy,
      determinedOn: dayOf(one.determinedOn),
      remarks: one.remarks,
      current: one.current,
    })),
    amendments,
    earlier: mayAmend ? (earlierValues(fields, amendments) as CatalogueRecord['earlier']) : [],
    abilities: {
      amend: mayAmend,
      determine: may(actor, 'catalogue.amend'),
      deaccession: may(actor, 'catalogue.dispose'),
      history: may(actor, 'audit.see'),
    },
  };
}
