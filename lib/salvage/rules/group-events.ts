import { geoDistance } from 'd3-geo';
import { addDays, daysBetween } from '@/lib/permits/public-rules';

export type DatedFind = {
  id: string;
  earliestOn: string;
  latestOn: string;
  /** Country, state, county and locality joined by the caller; equal keys are one place. */
  placeKey: string;
  latitude: number | null;
  longitude: number | null;
  quantity: number;
};

export type GroupEvent = {
  fromOn: string;
  untilOn: string;
  findIds: string[];
  birds: number;
  /** 'certain' when enough of them were surely found that day; 'possible' when date ranges only overlap. */
  certainty: 'certain' | 'possible';
};

/** Finds this near count as one place whatever their words say: our judgement, a setting of the institution. */
export const samePlaceMetres = 100;
const earthRadiusMetres = 6_371_008.8;
/** A find dated no better than this says nothing about a day, and is not counted. */
export const longestRangeDays = 31;

function metresApart(a: DatedFind, b: DatedFind): number {
  if (a.latitude === null || a.longitude === null || b.latitude === null || b.longitude === null) {
    return Number.POSITIVE_INFINITY;
  }
  return geoDistance([a.longitude, a.latitude], [b.longitude, b.latitude]) * earthRadiusMetres;
}

/** Split the finds of one day into places: same words, or within the distance, joined in chains. */
function clusterByPlace(finds: DatedFind[], withinMetres: number): DatedFind[][] {
  const clusters: DatedFind[][] = [];
  for (const find of finds) {
    const touching = clusters.filter((cluster) =>
      cluster.some((other) => other.placeKey === find.placeKey || metresApart(other, find) <= withinMetres),
    );
    const merged = [...touching.flat(), find];
    for (const cluster of touching) clusters.splice(clusters.indexOf(cluster), 1);
    clusters.push(merged);
  }
  return clusters;
}

function findsByDay(finds: DatedFind[]): Map<string, DatedFind[]> {
  const days = new Map<string, DatedFind[]>();
  for (const find of finds) {
    const length = daysBetween(find.earliestOn, find.latestOn);
    if (length > longestRangeDays) continue;
    for (let offset = 0; offset <= length; offset += 1) {
      const day = addDays(find.earliestOn, offset);
      const found = days.get(day);
      if (found) found.push(find);
      else days.set(day, [find]);
    }
  }
  return days;
}

const countBirds = (finds: DatedFind[]) => finds.reduce((sum, find) => sum + find.quantity, 0);

/**
 * Places and days with several dead birds, whoever found them and whatever the species (five or more must be
 * told to law enforcement before salvaging: 50 CFR 21.16(f)). Days with the same finds become one event; an
 * event whose finds all lie in a larger one is left out.
 */
export function findGroupEvents(
  finds: DatedFind[],
  minimumBirds = 5,
  withinMetres = samePlaceMetres,
): GroupEvent[] {
  const bySet = new Map<string, GroupEvent>();
  const days = [...findsByDay(finds)].sort(([a], [b]) => a.localeCompare(b));
  for (const [day, found] of days) {
    for (const cluster of clusterByPlace(found, withinMetres)) {
      const birds = countBirds(cluster);
      if (birds < minimumBirds) continue;
      const findIds = cluster.map((find) => find.id).sort();
      const sure = cluster.filter((find) => find.earliestOn === find.latestOn);
      const surelyHere = clusterByPlace(sure, withinMetres).some((part) => countBirds(part) >= minimumBirds);
      const key = findIds.join('\n');
      const known = bySet.get(key);
      const certainty = surelyHere || known?.certainty === 'certain' ? 'certain' : 'possible';
      bySet.set(key, { fromOn: known?.fromOn ?? day, untilOn: day, findIds, birds, certainty });
    }
  }
  const events = [...bySet.values()];
  const isInside = (small: GroupEvent, large: GroupEvent) =>
    small !== large &&
    small.findIds.length < large.findIds.length &&
    small.findIds.every((id) => large.findIds.includes(id));
  return events.filter(
    (event) =>
      !events.some(
        (other) =>
          isInside(event, other) && (other.certainty === 'certain' || event.certainty === 'possible'),
      ),
  );
}
