'use client';

import { Button, Checkbox, TextInput } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { RecordHistory } from '@/components/audit/record-history';
import { ErrorState } from '@/components/ui/error-state';
import { Fact, Facts, Section } from '@/components/ui/facts';
import { Loading } from '@/components/ui/loading';
import { RecordHead } from '@/components/ui/page-head';
import { StateBadge } from '@/components/ui/state-badge';
import type { PlaceRecord } from '@/lib/places/schema';
import { paths } from '@/lib/platform/paths';
import { countOf, say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import { NO_PLACE, PlaceForm, toRequest } from './place-form';
import { sayPoint } from './place-list';
import { Agreement, UncertaintyTerms } from './place-reading';
import { placeOptions, useChangePlace } from './queries';

/** One named place: where it is, how sure that is, and what became of it. */
export function PlacePage({ id }: { id: string }) {
  const record = useQuery(placeOptions(id));
  const [changing, setChanging] = useState(false);
  if (record.error)
    return (
      <ErrorState
        what={say('This place could not be loaded.')}
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what={say('Loading the place')} lines={6} />;
  const place = record.data;
  return (
    <>
      <RecordHead
        number={[place.county, place.stateProvince, place.country].filter(Boolean).join(', ')}
        state={place.active ? null : <StateBadge tone="attention">{say('Retired')}</StateBadge>}
        title={place.name}
        intro={say('{of} found here', { of: countOf(place.birds, 'record') })}
        back={{ label: say('Places'), href: paths.places }}
        acts={
          place.abilities.change && !changing ? (
            <Button variant="default" onClick={() => setChanging(true)}>
              {say('Change the place')}
            </Button>
          ) : null
        }
      />
      {changing ? (
        <ChangeForm place={place} onDone={() => setChanging(false)} />
      ) : (
        <Whereabouts place={place} />
      )}
      <Section id="history" title={say('History')}>
        <RecordHistory subject={{ subjectType: 'place', subjectId: id }} />
      </Section>
    </>
  );
}

function Whereabouts({ place }: { place: PlaceRecord }) {
  const { latitude, longitude } = place;
  return (
    <Section id="where" title={say('Where it is')}>
      <Facts>
        <Fact
          term={say('Coordinates')}
          note={
            place.verbatimCoordinates &&
            say('written {verbatimCoordinates}', { verbatimCoordinates: place.verbatimCoordinates })
          }
        >
          {latitude === null || longitude === null ? say('none yet') : sayPoint(latitude, longitude)}
        </Fact>
        <Fact term={say('Datum')}>{place.datum ?? say('none')}</Fact>
        <Fact term={say('Uncertainty')} note={place.uncertainty?.formula}>
          {place.uncertaintyM === null ? say('not known') : `${sayNumber(place.uncertaintyM)} m`}
        </Fact>
        {place.agreement === null ? null : (
          <Fact term={say('Compared with the names')} wide>
            <Agreement agreement={place.agreement} />
          </Fact>
        )}
        <Fact term={say('Remarks')} wide>
          {place.remarks ?? say('none')}
        </Fact>
      </Facts>
      {place.uncertainty === null ? null : <UncertaintyTerms terms={place.uncertainty.terms} />}
    </Section>
  );
}

function ChangeForm({ place, onDone }: { place: PlaceRecord; onDone: () => void }) {
  const change = useChangePlace(place.id);
  const [fields, setFields] = useState({
    ...NO_PLACE,
    name: place.name,
    country: place.country,
    stateProvince: place.stateProvince,
    county: place.county,
    remarks: place.remarks ?? '',
  });
  const [active, setActive] = useState(place.active);
  const [reason, setReason] = useState('');
  return (
    <Section id="change" title={say('Change the place')}>
      <PlaceForm
        fields={fields}
        onChange={setFields}
        error={change.error}
        busy={change.isPending}
        submit={say('Save the change')}
        keepsCoordinates
        onSubmit={() => {
          const request = toRequest(fields);
          change.mutate(
            { ...request, keepCoordinates: !request.written, active, reason, version: place.version },
            { onSuccess: onDone },
          );
        }}
      >
        <Checkbox
          label={say('In use: offered where somebody logs a find')}
          checked={active}
          onChange={(event) => setActive(event.currentTarget.checked)}
        />
        <TextInput
          label={say('Why is it changed?')}
          required
          value={reason}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
        <div>
          <Button variant="default" onClick={onDone}>
            {say('Leave as it was')}
          </Button>
        </div>
      </PlaceForm>
    </Section>
  );
}
