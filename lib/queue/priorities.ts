import 'server-only';
import type { Work } from '@/lib/platform/tx';
import { type ClaimBird, countCatalogued, type QueueBird, writePriorities } from './repo/birds';
import { computePriority } from './rules/priority';
import { startMinutes } from './rules/times';
import {
  CARCASS_CONDITIONS,
  type CarcassCondition,
  HOLD_KINDS,
  type HoldKind,
  type PriorityFacts,
} from './schema';
import type { QueueSettings } from './settings';

const DAY_MS = 86_400_000;

export const holdsOf = (bird: ClaimBird): HoldKind[] =>
  bird.salvage.holds.map(({ kind }) =>
    (HOLD_KINDS as readonly string[]).includes(kind) ? (kind as HoldKind) : 'legal',
  );

const conditionOf = (text: string): CarcassCondition =>
  (CARCASS_CONDITIONS as readonly string[]).includes(text) ? (text as CarcassCondition) : 'unknown';

/** Target temperature of the nearest unit above the carcass that has one. */
function freezerC(bird: QueueBird): number | null {
  const unit = bird.materials[0]?.placement?.unit;
  return unit?.targetTempC ?? unit?.parent?.targetTempC ?? unit?.parent?.parent?.targetTempC ?? null;
}

export function priorityFacts(
  bird: QueueBird,
  input: { at: Date; catalogued: number; settings: QueueSettings },
): PriorityFacts {
  const { at, catalogued, settings } = input;
  const permitEnds = bird.salvage.permit?.expiresOn;
  return {
    birdId: bird.id,
    label: bird.number,
    daysInFreezer:
      bird.frozenAt === null ? null : Math.max(0, (at.getTime() - bird.frozenAt.getTime()) / DAY_MS),
    freezerC: freezerC(bird),
    condition: conditionOf(bird.salvage.condition),
    gaps:
      bird.taxon === null
        ? []
        : [{ what: bird.taxon.scientificName, catalogued, wanted: settings.wantedPerTaxon }],
    permitDaysLeft: permitEnds ? (permitEnds.getTime() - at.getTime()) / DAY_MS : null,
    request:
      bird.requestReason === null
        ? null
        : {
            byName: 'a curator',
            urgency:
              bird.requestUrgency === 'now' || bird.requestUrgency === 'when-possible'
                ? bird.requestUrgency
                : 'soon',
            reason: bird.requestReason,
          },
    jobMinutes:
      bird.styleId === null
        ? null
        : startMinutes(bird.styleId as never, bird.sizeClass as never, settings.times),
    holds: holdsOf(bird),
  };
}

/** Computes and writes the priorities of these birds, inside the caller's transaction. */
export async function refreshPriorities(work: Work, birds: readonly QueueBird[], settings: QueueSettings) {
  const taxonIds = [...new Set(birds.flatMap(({ taxonId }) => taxonId ?? []))];
  const counts = await countCatalogued(work.db, work.actor.collectionId, taxonIds);
  const priorities = birds.map((bird) =>
    computePriority(
      priorityFacts(bird, { at: work.now, catalogued: counts.get(bird.taxonId ?? '') ?? 0, settings }),
      settings.weights,
      settings.scales,
    ),
  );
  await writePriorities(work.db, priorities);
  return priorities;
}
