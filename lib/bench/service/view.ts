import 'server-only';
import type { SentTimes } from '@/lib/bench/clock-schema';
import type { Comparison } from '@/lib/bench/comparison';
import { overrides, reviewRemarks, stepsDone } from '@/lib/bench/documents';
import { judgeRecord } from '@/lib/bench/judged';
import { abilitiesOf } from '@/lib/bench/policy';
import { countEarlier } from '@/lib/bench/repo/entries';
import { type FoundRecord, findCollection, findNames, findRecord } from '@/lib/bench/repo/records';
import { listLacks } from '@/lib/bench/rules';
import type { BenchState, MaterialKind } from '@/lib/bench/schema';
import { loadComparison } from '@/lib/bench/service/comparison';
import { loadStyle } from '@/lib/bench/service/styles';
import { readBenchSettings } from '@/lib/bench/settings';
import { plainValues, readSnapshot, type Snapshot } from '@/lib/bench/snapshot';
import type { PreparationStyle } from '@/lib/bench/styles';
import type { BenchRecord } from '@/lib/bench/wire';
import type { Actor } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import type { Tx } from '@/lib/platform/db';
import { notFound } from '@/lib/platform/errors';
import { say } from '@/lib/platform/words/say';
import { readQueueSettings } from '@/lib/queue/public';
import { sizeClassSchema } from '@/lib/queue/schema';
import { labelOf, placePath } from '@/lib/storage/public';

type Named = (id: string) => { id: string; name: string };

/** The whole record as its page shows it. @throws AppError not-found outside the actor's collection. */
export async function loadView(tx: Tx, actor: Actor, id: string): Promise<BenchRecord> {
  const found = await findRecord(tx, actor.collectionId, id);
  if (found === null) throw notFound(say('This bench record'));
  return viewOf(tx, actor, found);
}

async function viewOf(tx: Tx, actor: Actor, found: FoundRecord): Promise<BenchRecord> {
  const against = await loadComparison(tx, found);
  const snapshot = readSnapshot(found.values);
  const named = namer(await findNames(tx, peopleIn(found, snapshot)));
  const { settings } = await findCollection(tx, actor.collectionId);
  const style = await loadStyle(tx, actor.collectionId, found.styleId, found.styleVersion);
  const earlier = await countEarlier(tx, found.id);
  const own = readBenchSettings(settings);
  return {
    ...headOf(found, style, named),
    values: shownValues(snapshot, named),
    earlier: Object.fromEntries(earlier),
    ...notesOf(found, named),
    products: productsOf(found),
    times: timesOf(found.bird, found, settings),
    clockSettings: own.clocks,
    scales: own.scales,
    comparison: against,
    ...judgedOf(found, against),
    lacks: listLacks(plainValues(snapshot), style.id),
    abilities: abilitiesOf(actor, {
      state: found.state as BenchState,
      carcassState: found.bird.state,
      preparatorId: found.preparatorId,
      scribeId: found.scribeId,
    }),
  };
}

/** Each value with the name of who wrote it. */
export const shownValues = (snapshot: Snapshot, named: Named): BenchRecord['values'] =>
  Object.fromEntries(
    Object.entries(snapshot).map(([field, held]) => [field, { ...held, by: named(held.by) }]),
  );

export const namer =
  (names: Map<string, string>): Named =>
  (id) => ({ id, name: names.get(id) ?? say('somebody who left') });

function peopleIn(found: FoundRecord, snapshot: Snapshot): (string | null)[] {
  return [
    found.preparatorId,
    found.scribeId,
    ...Object.values(snapshot).map(({ by }) => by),
    ...Object.values(stepsDone.parse(found.stepsDone)).map(({ by }) => by),
    ...Object.values(overrides.parse(found.overrides)).map(({ by }) => by),
    ...reviewRemarks.parse(found.reviewRemarks).flatMap(({ by, answer }) => [by, answer?.by ?? null]),
  ];
}

function headOf(found: FoundRecord, style: PreparationStyle, named: Named) {
  const { bird } = found;
  return {
    id: found.id,
    birdId: bird.id,
    number: bird.number,
    catalogueNumber: bird.catalogue?.number ?? null,
    prepNumber: found.prepNumber,
    scientificName: bird.taxon?.scientificName ?? bird.salvage.verbatimTaxon,
    commonName: bird.taxon?.commonName ?? null,
    state: found.state as BenchState,
    carcassState: bird.state,
    birdVersion: bird.version,
    arrival: {
      foundFrom: dayOf(bird.salvage.foundFrom),
      foundTo: dayOf(bird.salvage.foundTo),
      cause: bird.salvage.cause,
      condition: bird.salvage.condition,
      circumstances: bird.salvage.circumstances,
      bandNumber: bird.salvage.bandNumber,
    },
    style,
    preparator: named(found.preparatorId),
    scribe: found.scribeId === null ? null : named(found.scribeId),
    startedAt: found.startedAt.toISOString(),
    sentAt: found.sentAt?.toISOString() ?? null,
    version: found.version,
    lackExplanation: found.lackExplanation,
  };
}

function notesOf(found: FoundRecord, named: Named) {
  const steps = stepsDone.parse(found.stepsDone);
  const explained = overrides.parse(found.overrides);
  return {
    steps: Object.fromEntries(
      Object.entries(steps).map(([step, { at, by }]) => [step, { at, by: named(by) }]),
    ),
    overrides: Object.fromEntries(
      Object.entries(explained).map(([key, one]) => [key, { ...one, by: named(one.by) }]),
    ),
    remarks: reviewRemarks.parse(found.reviewRemarks).map((remark) => ({
      ...remark,
      by: named(remark.by),
      answer: remark.answer === null ? null : { ...remark.answer, by: named(remark.answer.by) },
    })),
  };
}

const productsOf = ({ bird }: FoundRecord) =>
  bird.materials.map((material) => ({
    id: material.id,
    label: labelOf({ suffix: material.suffix, bird }),
    kind: material.kind as MaterialKind,
    state: material.state,
    custody: material.custody,
    place: placePath(material.placement),
    description: material.description,
  }));

/** When the bird left the freezer, became workable, gave its tissue and was finished. */
export function timesOf(
  bird: { thawStartedAt: Date | null; sizeClass: string },
  record: { stepsDone: unknown; finishedAt: Date | null } | null,
  settings: unknown,
): SentTimes {
  const steps = stepsDone.parse(record?.stepsDone ?? {});
  const { leadHours } = readQueueSettings(settings).sizes;
  return {
    outOfFreezerAt: bird.thawStartedAt?.toISOString() ?? null,
    workableAt: steps.thaw?.at ?? null,
    tissueTakenAt: steps.tissue?.at ?? null,
    finishedAt: record?.finishedAt?.toISOString() ?? null,
    leadHours: leadHours[sizeClassSchema.safeParse(bird.sizeClass).data ?? 'medium'],
  };
}

/** What follows from the record's values: the warnings with why their figures stand, and what the evidence says. */
export function judgedOf(
  { values, overrides: kept }: { values: unknown; overrides: unknown },
  against: Comparison,
): Pick<BenchRecord, 'warnings' | 'derived'> {
  const explained = overrides.parse(kept);
  const { warnings, derived } = judgeRecord(plainValues(readSnapshot(values)), against);
  return {
    warnings: warnings.map((warning) => ({ ...warning, explained: explained[warning.key]?.reason ?? null })),
    derived,
  };
}
