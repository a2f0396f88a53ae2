'use client';

import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import type { z } from 'zod';
import { DataList } from '@/components/ui/data-list';
import { Fact, Facts } from '@/components/ui/facts';
import { StateBadge } from '@/components/ui/state-badge';
import type { placeToRead, PlaceReading as Reading } from '@/lib/places/schema';
import { say } from '@/lib/platform/words/say';
import { sayNumber } from '@/lib/platform/words/say-number';
import { sayPoint } from './place-list';
import { readingOptions } from './queries';

const TYPING_MS = 400;

/** What is understood of a place while it is typed: point, datum, each term of the uncertainty, and the county. */
export function PlaceReading({ place }: { place: z.input<typeof placeToRead> }) {
  const [settled] = useDebouncedValue(place, TYPING_MS);
  const reading = useQuery(readingOptions(settled));
  if (settled.coordinates.trim() === '') return null;
  if (reading.error)
    return (
      <p role="alert">{say('The place could not be read: {message}', { message: reading.error.message })}</p>
    );
  return (
    <div aria-live="polite">
      {reading.data === undefined ? say('Reading the coordinates') : <Understood reading={reading.data} />}
    </div>
  );
}

function Understood({ reading }: { reading: Reading }) {
  const { point, refusal, agreement } = reading;
  if (point === null)
    return (
      <StateBadge tone="attention">
        {[refusal?.message, ...(refusal?.readings ?? []).map((one) => say('It may be {one}.', { one }))].join(
          ' ',
        )}
      </StateBadge>
    );
  return (
    <>
      <Facts>
        <Fact term={say('Read as')} note={reading.system}>
          {sayPoint(point.latitude, point.longitude)}
        </Fact>
        <Fact term={say('Datum')}>{reading.datum}</Fact>
        <Fact term={say('Uncertainty')} note={reading.formula}>
          {reading.uncertaintyM === null ? say('too large to state') : `${sayNumber(reading.uncertaintyM)} m`}
        </Fact>
        {agreement === null ? null : (
          <Fact term={say('Compared with the names')} wide>
            <Agreement agreement={agreement} />
          </Fact>
        )}
        {reading.suggestions.length === 0 ? null : (
          <Fact term={say('It would fit as')} wide>
            {reading.suggestions.map((one) => sayPoint(one.latitude, one.longitude)).join(say('; or '))}
          </Fact>
        )}
        {reading.remarks.length === 0 ? null : (
          <Fact term={say('Look at this')} wide>
            {reading.remarks.join(' ')}
          </Fact>
        )}
      </Facts>
      <UncertaintyTerms terms={reading.terms} />
      <p>{say('Uncertainty by the point-radius method: {protocol}.', { protocol: reading.protocol })}</p>
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
      label={say('Terms of the uncertainty')}
      columns={[
        { id: 'label', head: say('What adds to it'), cell: (term) => term.label },
        { id: 'formula', head: say('How it is found'), cell: (term) => term.formula },
        { id: 'value', head: say('Adds'), unit: 'm', numeric: true, cell: (term) => term.valueM.toFixed(1) },
      ]}
      rows={terms}
      rowId={(term) => term.id}
    />
  );
}
