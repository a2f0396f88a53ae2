import { Fact, Facts } from '@/components/ui/facts';
import { Link } from '@/components/ui/link';
import type { CatalogueRecord } from '@/lib/catalogue/wire';
import { paths } from '@/lib/platform/paths';
import { sayDays } from '@/lib/platform/say-dates';
import { say, sayWord } from '@/lib/platform/words/say';

const sayCoordinates = ({ latitude, longitude, uncertaintyM }: CatalogueRecord['origin']): string | null =>
  latitude === null || longitude === null
    ? null
    : `${latitude.toFixed(5)}, ${longitude.toFixed(5)}${uncertaintyM === null ? '' : ` ± ${Math.round(uncertaintyM)} m`}`;

/** Where, when and how a bird was found, as exactly as this reader may know. */
export function OriginFacts({ origin, linked }: { origin: CatalogueRecord['origin']; linked: boolean }) {
  const coordinates = sayCoordinates(origin);
  const place = [origin.locality, origin.county, origin.stateProvince, origin.country];
  return (
    <Facts>
      <Fact term={say('Found')}>{sayDays(origin.foundFrom, origin.foundTo)}</Fact>
      <Fact term={say('Place')} note={origin.generalised ? say('The exact place is withheld.') : undefined}>
        {place.filter(Boolean).join(', ')}
      </Fact>
      {coordinates === null ? null : <Fact term={say('Coordinates')}>{coordinates}</Fact>}
      <Fact term={say('Cause of death suspected')}>{sayWord(origin.cause)}</Fact>
      {origin.circumstances === null ? null : <Fact term={say('Circumstances')}>{origin.circumstances}</Fact>}
      {origin.permitNumber === null ? null : <Fact term={say('Permit')}>{origin.permitNumber}</Fact>}
      {origin.accession === null ? null : (
        <Fact term={say('Accession')}>
          {linked ? (
            <Link href={paths.accession(origin.accession.id)}>{origin.accession.number}</Link>
          ) : (
            origin.accession.number
          )}
        </Fact>
      )}
    </Facts>
  );
}
