import 'server-only';
import { type Actor, authorise, type CommandContext, personOf } from '@/lib/platform/actor';
import { db, type Tx } from '@/lib/platform/db';
import { conflict } from '@/lib/platform/errors';
import { may } from '@/lib/platform/permissions';
import { withTx } from '@/lib/platform/tx';
import { say } from '@/lib/platform/words/say';
import { type Exposure, findLogStays, labelOf, listExposures } from '@/lib/storage/public';
import type { PreservationKind } from '@/lib/storage/schema';
import { tissueEvents } from '../events';
import { findCounted, findVialsByIds, insertThaw, updateVial, type VialMaterial } from '../repo/vials';
import { vialOf } from '../rows';
import type { TissueKind } from '../schema';
import type { ExposedVials } from '../wire';

/** The vials that lay in a freezer while its log shows it too warm, with the thaw count that is proposed for each. */
export async function listExposedVials(actor: Actor, logId: string): Promise<ExposedVials> {
  authorise(actor, 'tissues.see');
  return describeExposed(db(), actor, logId);
}

/** Counts the proposed thaws of the chosen vials. A log counts once for a vial, whoever presses again. */
export async function countThaws(
  context: CommandContext,
  logId: string,
  vialIds: readonly string[],
): Promise<ExposedVials> {
  const { actor } = context;
  authorise(actor, 'tissues.use');
  return withTx(context, async (work) => {
    const { exposed, counted, log } = await findExposed(work.db, actor, logId);
    for (const id of new Set(vialIds)) {
      const found = exposed.find(({ material }) => material.id === id);
      if (found === undefined || counted.has(id)) {
        throw conflict(
          say(
            'One of these vials was counted already, or was not exposed. Reload the list; nothing was counted.',
          ),
        );
      }
      const vial = vialOf(found.material);
      const thaws = found.proposed - vial.thawCount;
      if (thaws <= 0)
        throw conflict(
          say('{labelOf} has no thaw proposed. Nothing was counted.', { labelOf: labelOf(found.material) }),
        );
      await insertThaw(work.db, {
        vialId: id,
        logId,
        thaws,
        reason: `${log.unitName}, ${log.fileName}: ${found.reasons.join(' ')}`,
        countedAt: work.now,
        countedById: personOf(actor),
      });
      await updateVial(work.db, id, { thawCount: { increment: thaws } });
      work.audit(
        tissueEvents.make(
          'tissues.thaw-counted',
          { subjectType: 'material', subjectId: id, birdId: found.material.birdId },
          { vial: labelOf(found.material), from: vial.thawCount, to: found.proposed, log: log.fileName },
        ),
      );
    }
    return describeExposed(work.db, actor, logId);
  });
}

type Exposed = {
  material: VialMaterial;
  minutes: number;
  peakC: number;
  isOpenEnded: boolean;
  proposed: number;
  reasons: string[];
};

async function findExposed(tx: Tx, actor: Actor, logId: string) {
  const { log, excursions, stays } = await findLogStays(tx, actor.collectionId, logId);
  const ids = [...new Set(stays.map((stay) => stay.materialId))];
  const vials = await findVialsByIds(tx, actor.collectionId, ids);
  const counted = await findCounted(tx, logId);
  const byId = new Map(vials.map((material) => [material.id, material]));
  const exposures = listExposures(
    new Map([[log.unitId, excursions]]),
    stays.flatMap((stay) => {
      const material = byId.get(stay.materialId);
      if (material === undefined) return [];
      const { preservation, thawCount } = vialOf(material);
      return [{ ...stay, freezerId: log.unitId, preservation: preservation as PreservationKind, thawCount }];
    }),
  );
  const grouped = new Map<string, Exposure[]>();
  for (const one of exposures) grouped.set(one.materialId, [...(grouped.get(one.materialId) ?? []), one]);
  const exposed = [...grouped].flatMap(([materialId, all]): Exposed[] => {
    const material = byId.get(materialId);
    return material === undefined ? [] : [{ material, ...sumUp(all) }];
  });
  exposed.sort((a, b) => b.minutes - a.minutes || labelOf(a.material).localeCompare(labelOf(b.material)));
  return { log, excursions, exposed, counted };
}

function sumUp(all: readonly Exposure[]): Omit<Exposed, 'material'> {
  return {
    minutes: all.reduce((sum, one) => sum + one.minutes, 0),
    peakC: Math.max(...all.map((one) => one.peakC)),
    isOpenEnded: all.some((one) => one.isOpenEnded),
    proposed: Math.max(...all.map((one) => one.proposal.thawCount)),
    reasons: all.map((one) => one.proposal.reason),
  };
}

async function describeExposed(tx: Tx, actor: Actor, logId: string): Promise<ExposedVials> {
  const { log, excursions, exposed, counted } = await findExposed(tx, actor, logId);
  return {
    log,
    excursions: excursions.length,
    rows: exposed.map(({ material, minutes, peakC, isOpenEnded, proposed, reasons }) => {
      const vial = vialOf(material);
      const isCounted = counted.has(material.id);
      return {
        id: material.id,
        label: labelOf(material),
        scientificName: material.bird.taxon?.scientificName ?? say('not yet identified'),
        tissues: vial.tissues as TissueKind[],
        minutes,
        peakC,
        isOpenEnded,
        thawCount: vial.thawCount,
        proposedThawCount: isCounted ? vial.thawCount : proposed,
        reasons,
        isCounted,
      };
    }),
    abilities: { count: may(actor, 'tissues.use') },
  };
}
