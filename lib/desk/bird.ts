import 'server-only';
import { rollups } from 'd3-array';
import { notePlaceLook } from '@/lib/audit/public';
import { type Actor, authorise } from '@/lib/platform/actor';
import { dayOf } from '@/lib/platform/clock';
import { notFound } from '@/lib/platform/errors';
import { materialNumber } from '@/lib/platform/numbers';
import { may } from '@/lib/platform/permissions';
import { say } from '@/lib/platform/words/say';
import { placePath } from '@/lib/storage/public';
import { type FoundBird, findBird, findMarks, findNames } from './repo/bird';
import { type LifeFacts, lifeOf, type Mark } from './rules/life';
import type { BirdRecord } from './schema';

/** One bird with its life line. @throws AppError not-found outside the actor's collection. */
export async function showBird(actor: Actor, id: string): Promise<BirdRecord> {
  authorise(actor, 'salvage.see');
  const bird = await findBird(actor.collectionId, id);
  if (bird === null) throw notFound(say('This bird'));
  const [marks, names] = await Promise.all([
    findMarks(actor.collectionId, id, bird.salvageId),
    findNames([
      bird.claimedById,
      bird.bench?.preparatorId,
      bird.catalogue?.approvedById,
      bird.salvage.loggedById,
      ...bird.materials.flatMap(({ steps }) => steps.map(({ byId }) => byId)),
    ]),
  ]);
  const first = (kind: string): Mark | null => {
    const event = marks.find((mark) => mark.kind === kind);
    return event === undefined ? null : { at: event.at.toISOString(), by: event.actorName };
  };
  const isSensitive = bird.taxon?.sensitive === true;
  const shown = may(actor, 'place.exact') || !isSensitive;
  if (shown && isSensitive)
    await notePlaceLook(actor, { salvageId: bird.salvageId, birdId: bird.id, number: bird.number });
  return { ...sectionsOf(bird, names, shown), life: lifeOf(factsOf(bird, names, first)) };
}

const labelIn = (bird: FoundBird, suffix: string) =>
  materialNumber(bird.catalogue?.number ?? bird.number, suffix);

function sectionsOf(bird: FoundBird, names: Map<string, string>, exact: boolean): Omit<BirdRecord, 'life'> {
  const { salvage, bench, catalogue } = bird;
  return {
    id: bird.id,
    number: bird.number,
    catalogueNumber: catalogue?.number ?? null,
    scientificName: bird.taxon?.scientificName ?? salvage.verbatimTaxon,
    commonName: bird.taxon?.commonName ?? null,
    sex: bird.sex,
    state: bird.state,
    salvage: {
      id: salvage.id,
      foundFrom: dayOf(salvage.foundFrom),
      foundTo: dayOf(salvage.foundTo),
      stateProvince: salvage.stateProvince,
      county: salvage.county,
      locality: exact ? salvage.locality : null,
      cause: salvage.cause,
      coverage: salvage.coverage,
      permit: salvage.permit === null ? null : { id: salvage.permit.id, number: salvage.permit.number },
      openHolds: salvage.holds.map(({ reason }) => reason),
    },
    accession:
      salvage.accession === null ? null : { id: salvage.accession.id, number: salvage.accession.number },
    bench:
      bench === null
        ? null
        : {
            id: bench.id,
            prepNumber: bench.prepNumber,
            state: bench.state,
            styleId: bench.styleId,
            preparator: names.get(bench.preparatorId) ?? say('somebody who left'),
          },
    materials: bird.materials.map((material) => ({
      id: material.id,
      label: labelIn(bird, material.suffix),
      kind: material.kind,
      state: material.state,
      custody: material.custody,
      place: placePath(material.placement),
      description: material.description,
    })),
    bones: rollups(
      bird.bones,
      (entries) => entries.length,
      ({ place, state }) => place ?? (state === 'missing' ? 'missing' : 'undecided'),
    ).map(([place, elements]) => ({ place, elements })),
    loans: bird.materials.flatMap((material) =>
      material.loanLines.map(({ loan }) => ({
        id: loan.id,
        number: loan.number,
        material: labelIn(bird, material.suffix),
        state: loan.state,
      })),
    ),
  };
}

function factsOf(
  bird: FoundBird,
  names: Map<string, string>,
  first: (kind: string) => Mark | null,
): LifeFacts {
  const by = (id: string | null) => (id === null ? null : (names.get(id) ?? null));
  const mark = (at: Date | null, personId: string | null): Mark | null =>
    at === null ? null : { at: at.toISOString(), by: by(personId) };
  const { salvage, bench, catalogue } = bird;
  return {
    birdId: bird.id,
    salvage: {
      id: salvage.id,
      state: salvage.state,
      logged: { at: salvage.loggedAt.toISOString(), by: by(salvage.loggedById) },
    },
    accession:
      salvage.accession === null
        ? null
        : {
            id: salvage.accession.id,
            number: salvage.accession.number,
            made: mark(salvage.accession.createdAt, salvage.accession.createdById) ?? { at: '', by: null },
          },
    carcassState: bird.state,
    queued: first('queue.queued'),
    claimed: mark(bird.claimedAt, bird.claimedById),
    bench:
      bench === null
        ? null
        : {
            id: bench.id,
            state: bench.state,
            started: { at: bench.startedAt.toISOString(), by: by(bench.preparatorId) },
            sent: mark(bench.sentAt, bench.preparatorId),
          },
    catalogue:
      catalogue === null
        ? null
        : {
            number: catalogue.number,
            approved: { at: catalogue.approvedAt.toISOString(), by: by(catalogue.approvedById) },
          },
    materials: bird.materials.map((material) => {
      const out = material.loanLines.find(({ outcome }) => outcome === null);
      return {
        id: material.id,
        kind: material.kind,
        label: labelIn(bird, material.suffix),
        state: material.state,
        custody: material.custody,
        made: { at: material.createdAt.toISOString(), by: null },
        steps: material.steps.map((step) => ({
          state: step.state,
          startedAt: step.startedAt.toISOString(),
          endedAt: step.endedAt?.toISOString() ?? null,
          by: by(step.byId),
        })),
        loan:
          out === undefined
            ? null
            : { id: out.loan.id, number: out.loan.number, sentAt: out.sentAt?.toISOString() ?? null },
      };
    }),
  };
}
