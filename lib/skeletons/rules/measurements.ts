import { phrases, say } from '@/lib/platform/words/say';
import { type ElementId, elementName, sidesOf } from '../elements';
import type { BoneEntry } from '../schema';
import type { Place, Portion, Side } from '../words';

/** A measurement of a bone and how much of the bone it needs. */
export interface BoneMeasurement {
  id: string;
  name: string;
  element: ElementId;
  /** `whole` for lengths and shafts, the portion for the breadth of an end. */
  needs: Portion;
}

const longBone = (element: ElementId): BoneMeasurement[] =>
  phrases(
    [
      { id: `${element}-greatest-length`, name: 'greatest length', element, needs: 'whole' },
      { id: `${element}-proximal-breadth`, name: 'breadth of the proximal end', element, needs: 'proximal' },
      { id: `${element}-distal-breadth`, name: 'breadth of the distal end', element, needs: 'distal' },
      { id: `${element}-shaft-breadth`, name: 'least breadth of the shaft', element, needs: 'whole' },
    ],
    ['name'],
  );

/** Measurements in common use; after von den Driesch 1976 (from memory), in our own words. */
export const BONE_MEASUREMENTS: readonly BoneMeasurement[] = phrases(
  [
    { id: 'skull-greatest-length', name: 'greatest length', element: 'cranium', needs: 'whole' },
    { id: 'skull-greatest-breadth', name: 'greatest breadth', element: 'cranium', needs: 'proximal' },
    { id: 'bill-length-from-hinge', name: 'bill length from the hinge', element: 'cranium', needs: 'distal' },
    { id: 'mandible-greatest-length', name: 'greatest length', element: 'mandible', needs: 'whole' },
    { id: 'sternum-greatest-length', name: 'greatest length', element: 'sternum', needs: 'whole' },
    { id: 'keel-length', name: 'length of the keel', element: 'sternum', needs: 'whole' },
    { id: 'coracoid-greatest-length', name: 'greatest length', element: 'coracoid', needs: 'whole' },
    { id: 'scapula-cranial-breadth', name: 'breadth of the head end', element: 'scapula', needs: 'whole' },
    { id: 'synsacrum-length', name: 'length', element: 'synsacrum', needs: 'whole' },
    ...(
      ['humerus', 'radius', 'ulna', 'carpometacarpus', 'femur', 'tibiotarsus', 'tarsometatarsus'] as const
    ).flatMap(longBone),
  ],
  ['name'],
);

export type Usability = 'comparable' | 'doubtful' | 'lost';

export interface MeasurementStatus {
  measurement: BoneMeasurement;
  side: Side;
  usability: Usability;
  reason: string;
}

/** Whether one measurement can be taken on one side. */
function judge(
  measurement: BoneMeasurement,
  side: Side,
  entries: readonly BoneEntry[],
  places: readonly Place[],
) {
  const name = elementName(measurement.element, side);
  const own = entries.filter((entry) => entry.element === measurement.element && entry.side === side);
  const inReach = own.filter(
    (entry) => entry.state !== 'missing' && entry.place !== null && places.includes(entry.place),
  );
  const fitting = inReach.filter((entry) => entry.portion === 'whole' || entry.portion === measurement.needs);
  if (fitting.some((entry) => entry.state === 'whole')) {
    return { usability: 'comparable' as const, reason: say('The {name} is here, unbroken.', { name }) };
  }
  if (fitting.length > 0 && measurement.needs !== 'whole') {
    return {
      usability: 'doubtful' as const,
      reason: say('The {name} is broken: look whether this end is sound.', { name }),
    };
  }
  if (inReach.length > 0) {
    return {
      usability: 'lost' as const,
      reason: say('The {name} is not here in one sound piece.', { name }),
    };
  }
  return { usability: 'lost' as const, reason: say('The {name} is not here.', { name }) };
}

/** What can still be measured and compared on the bones in the places asked for, each measurement on each side. */
export function assessMeasurements(
  entries: readonly BoneEntry[],
  places: readonly Place[] = ['skeleton'],
): MeasurementStatus[] {
  return BONE_MEASUREMENTS.flatMap((measurement) =>
    sidesOf(measurement.element).map((side) => ({
      measurement,
      side,
      ...judge(measurement, side, entries, places),
    })),
  );
}

/** The ids of the measurements that at least one side still gives. */
export function comparableMeasurements(statuses: readonly MeasurementStatus[]): string[] {
  const good = statuses
    .filter(({ usability }) => usability === 'comparable')
    .map((one) => one.measurement.id);
  return [...new Set(good)];
}
