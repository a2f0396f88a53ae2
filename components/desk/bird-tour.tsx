import { CautionCard } from '@/components/ui/caution-card';
import { Section } from '@/components/ui/facts';
import { LifeLine } from '@/components/ui/life-line';
import { Link } from '@/components/ui/link';
import { Moment } from '@/components/ui/moment';
import { DeskHead } from '@/components/ui/page-head';
import { sayWith } from '@/components/ui/say-with';
import { TaxonName } from '@/components/ui/taxon-name';
import { CAUTION_ENDING } from '@/lib/bench/cautions';
import type { Tour, TourFact, TourStation } from '@/lib/desk/tour';
import { say } from '@/lib/platform/words/say';
import classes from './bird-tour.module.css';

/** For newcomers: one bird of this collection from find to shelf, and where each part of the work is done. */
export function BirdTour({ tour: { bird, life, stations } }: { tour: Tour }) {
  return (
    <>
      <DeskHead
        title={say('One bird from find to shelf')}
        lede={
          bird === null
            ? say(
                'How a bird goes through the lab. No bird is catalogued here yet; the first one will be followed on this page.',
              )
            : sayWith('How a bird goes through the lab, told by {link}, {taxonname}.', {
                link: bird.href === null ? bird.name : <Link href={bird.href}>{bird.name}</Link>,
                taxonname: <TaxonName scientific={bird.scientificName} common={bird.commonName} />,
              })
        }
      />
      {life === null || bird === null ? null : (
        <LifeLine
          stages={life.stages}
          branches={life.branches}
          label={say('Life of {name}', { name: bird.name })}
        />
      )}
      {stations.map((station, index) => (
        <StationSection key={station.id} station={station} at={index + 1} />
      ))}
      <p className={classes.foot}>
        {say(
          'The order of the work is common practice, no published source. What your lab wrote down for itself stands above it.',
        )}
      </p>
    </>
  );
}

function StationSection({ station, at }: { station: TourStation; at: number }) {
  return (
    <Section id={station.id} title={`${at}. ${station.title}`}>
      <div className={classes.station}>
        <p>{station.text}</p>
        {station.facts.length === 0 ? null : (
          <ul className={classes.facts} aria-label={say('This bird')}>
            {station.facts.map((fact) => (
              <li key={fact.label}>
                <FactWords fact={fact} />
              </li>
            ))}
          </ul>
        )}
        {station.places.length === 0 ? null : (
          <p className={classes.where}>
            {sayWith('Where it is done: {places}', {
              places: station.places.map((place, index) => (
                <span key={place.id}>
                  {index > 0 && ', '}
                  <Link href={place.href}>{place.label}</Link>
                </span>
              )),
            })}
          </p>
        )}
        {station.cautions.map((caution) => (
          <CautionCard
            key={caution.id}
            title={caution.title}
            source={caution.source}
            closing={CAUTION_ENDING}
          >
            <p>{caution.text}</p>
          </CautionCard>
        ))}
      </div>
    </Section>
  );
}

function FactWords({ fact: { label, at, by, place, href } }: { fact: TourFact }) {
  return (
    <>
      {href === null ? label : <Link href={href}>{label}</Link>}
      {at === null ? null : (
        <>
          , <Moment at={at} show="day" />
        </>
      )}
      {by === null ? null : `, ${by}`}
      {place === null ? null : `, ${place}`}
    </>
  );
}
