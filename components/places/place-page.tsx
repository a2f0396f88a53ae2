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
import { countOf } from '@/components/ui/words';
import type { PlaceRecord } from '@/lib/places/schema';
import { paths } from '@/lib/platform/paths';
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
        what="This place could not be loaded."
        error={record.error}
        onRetry={() => void record.refetch()}
      />
    );
  if (record.data === undefined) return <Loading what="Loading the place" lines={6} />;
  const place = record.data;
  return (
    <>
      <RecordHead
        number={[place.county, place.stateProvince, place.country].filter(Boolean).join(', ')}
        state={place.active ? null : <StateBadge tone="attention">Retired</StateBadge>}
        title={place.name}
        intro={`${countOf(place.birds, 'record')} found here`}
        back={{ label: 'Places', href: paths.places }}
        acts={
          place.abilities.change && !changing ? (
            <Button variant="default" onClick={() => setChanging(true)}>
              Change the place
            </Button>
          ) : null
        }
      />
      {changing ? (
        <ChangeForm place={place} onDone={() => setChanging(false)} />
      ) : (
        <Whereabouts place={place} />
      )}
      <Section id="history" title="History">
        <RecordHistory subject={{ subjectType: 'place', subjectId: id }} />
      </Section>
    </>
  );
}

function Whereabouts({ place }: { place: PlaceRecord }) {
  const { latitude, longitude } = place;
  return (
    <Section id="where" title="Where it is">
      <Facts>
        <Fact term="Coordinates" note={place.verbatimCoordinates && `written ${place.verbatimCoordinates}`}>
          {latitude === null || longitude === null ? 'none yet' : sayPoint(latitude, longitude)}
        </Fact>
        <Fact term="Datum">{place.datum ?? 'none'}</Fact>
        <Fact term="Uncertainty" note={place.uncertainty?.formula}>
          {place.uncertaintyM === null ? 'not known' : `${place.uncertaintyM.toLocaleString('en-GB')} m`}
        </Fact>
        {place.agreement === null ? null : (
          <Fact term="Compared with the names" wide>
            <Agreement agreement={place.agreement} />
          </Fact>
        )}
        <Fact term="Remarks" wide>
          {place.remarks ?? 'none'}
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
    <Section id="change" title="Change the place">
      <PlaceForm
        fields={fields}
        onChange={setFields}
        error={change.error}
        busy={change.isPending}
        submit="Save the change"
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
          label="In use: offered where somebody logs a find"
          checked={active}
          onChange={(event) => setActive(event.currentTarget.checked)}
        />
        <TextInput
          label="Why is it changed?"
          required
          value={reason}
          onChange={(event) => setReason(event.currentTarget.value)}
        />
        <div>
          <Button variant="default" onClick={onDone}>
            Leave as it was
          </Button>
        </div>
      </PlaceForm>
    </Section>
  );
}
