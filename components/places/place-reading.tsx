'use client';

import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import type { z } from 'zod';
import { DataList } from '@/components/ui/data-list';
import { Fact, Facts } from '@/components/ui/facts';
import { StateBadge } from '@/components/ui/state-badge';
import type { placeToRead, PlaceReading as Reading } from '@/lib/places/schema';
import { sayPoint } from './place-list';
import { readingOptions } from './queries';

const TYPING_MS = 400;

/** What is understood of a place while it is typed: point, datum, each term of the uncertainty, and the county. */
export function PlaceReading({ place }: { place: z.input<typeof placeToRead> }) {
  const [settled] = useDebouncedValue(place, TYPING_MS);
  const reading = useQuery(readingOptions(settled));
  if (settled.coordinates.trim() === '') return null;
  if (reading.error) return <p role="alert">The place could not be read: {reading.error.message}</p>;
  return (
    <div aria-live="polite">
      {reading.data === undefined ? 'Reading the coordinates' : <Understood reading={reading.data} />}
    </div>
  );
}

function Understood({ reading }: { reading: Reading }) {
  const { point, refusal, agreement } = reading;
  if (point === null)
    return (
      <StateBadge tone="attention">
        {[refusal?.message, ...(refusal?.readings ?? []).map((one) => `It may be ${one}.`)].join(' ')}
      </StateBadge>
    );
  return (
    <>
      <Facts>
        <Fact term="Read as" note={reading.system}>
          {sayPoint(point.latitude, point.longitude)}
        </Fact>
        <Fact term="Datum">{reading.datum}</Fact>
        <Fact term="Uncertainty" note={reading.formula}>
          {reading.uncertaintyM === null
            ? 'too large to state'
            : `${reading.uncertaintyM.toLocaleString('en-GB')} m`}
        </Fact>
        {agreement === null ? null : (
          <Fact term="Compared with the names" wide>
            <Agreement agreement={agreement} />
          </Fact>
        )}
        {reading.suggestions.length === 0 ? null : (
          <Fact term="It would fit as" wide>
            {reading.suggestions.map((one) => sayPoint(one.latitude, one.longitude)).join('; or ')}
          </Fact>
        )}
        {reading.remarks.length === 0 ? null : (
          <Fact term="Look at this" wide>
            {reading.remarks.join(' ')}
          </Fact>
        )}
      </Facts>
      <UncertaintyTerms terms={reading.terms} />
      <p>Uncertainty by the point-radius method: {reading.protocol}.</p>
    </>
  );
}

export function Agreement({ agreement }: { agreement: NonNullable<Reading['agreement']> }) {
  const { verdict, message } = agreement;
  const tone =
    verdict === 'agrees' || verdict === 'near'
      ? 'settled'
      : verdict === 'nothing-named' || verdict === 'unknown-name'
        ? 'neutral'
        : 'stop';
  return <StateBadge tone={tone}>{message}</StateBadge>;
}

export function UncertaintyTerms({ terms }: { terms: Reading['terms'] }) {
  return (
    <DataList
      label="Terms of the uncertainty"
      columns={[
        { id: 'label', head: 'What adds to it', cell: (term) => term.label },
        { id: 'formula', head: 'How it is found', cell: (term) => term.formula },
        { id: 'value', head: 'Adds', unit: 'm', numeric: true, cell: (term) => term.valueM.toFixed(1) },
      ]}
      rows={terms}
      rowId={(term) => term.id}
    />
  );
}
