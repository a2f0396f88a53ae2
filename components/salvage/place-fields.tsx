'use client';

import { Button } from '@mantine/core';
import { useDebouncedValue } from '@mantine/hooks';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Picker } from '@/components/ui/picker';
import { TextField } from '@/components/ui/plain-controls';
import { type PlaceRow, placePage } from '@/lib/places/wire-list';
import { callApi, queryString } from '@/lib/platform/api';
import { say } from '@/lib/platform/words/say';
import type { PlaceCheckAnswer } from '@/lib/salvage/wire-place';
import type { FindDraft } from './find-state';
import { checkPlaceOnce } from './report-queries';
import classes from './salvage.module.css';

export type FieldsProps = {
  draft: FindDraft;
  set: (change: Partial<FindDraft>) => void;
  errorOf: (path: string) => string | undefined;
};

const TYPING_MS = 250;
const POSITION = { enableHighAccuracy: true, timeout: 20_000, maximumAge: 60_000 };

type Said = { tone: 'settled' | 'attention'; text: string } | null;

/** Where it was found: by the device, by coordinates as written, by a place of the house's list, and in words. */
export function PlaceFields({ draft, set, errorOf }: FieldsProps) {
  const [said, setSaid] = useState<Said>(null);
  const [locating, setLocating] = useState(false);

  const hear = (answer: PlaceCheckAnswer) => {
    if (answer.problem !== null) return setSaid({ tone: 'attention', text: answer.problem });
    setSaid({ tone: answer.agrees ? 'settled' : 'attention', text: answer.message ?? '' });
  };
  const fill = ({ located }: PlaceCheckAnswer): Partial<FindDraft> =>
    located === null
      ? {}
      : {
          country: located.country || draft.country,
          stateProvince: located.stateProvince ?? draft.stateProvince,
          county: located.county ?? draft.county,
        };

  const takePosition = () => {
    setLocating(true);
    setSaid(null);
    navigator.geolocation.getCurrentPosition(
      async ({ coords: { latitude, longitude, accuracy } }) => {
        const point = { latitude, longitude, uncertaintyM: Math.max(1, Math.ceil(accuracy)) };
        set({ ...point, coordinates: '', placeId: null });
        // Without a connection the coordinates are enough: the server finds the county later.
        const answer = await checkPlaceOnce(point).catch(() => null);
        setLocating(false);
        if (answer === null) {
          setSaid({
            tone: 'attention',
            text: say('Position taken. The county could not be looked up now; write it.'),
          });
          return;
        }
        set({ ...point, coordinates: '', placeId: null, ...fill(answer) });
        hear(answer);
      },
      (failure) => {
        setLocating(false);
        setSaid({
          tone: 'attention',
          text: say('The device gave no position ({message}). Write the place instead.', {
            message: failure.message,
          }),
        });
      },
      POSITION,
    );
  };

  const checkWritten = async () => {
    if (draft.coordinates.trim() === '') return setSaid(null);
    const { country, stateProvince, county, coordinates } = draft;
    const answer = await checkPlaceOnce({ coordinates, country, stateProvince, county }).catch(() => null);
    if (answer === null) return;
    hear(answer);
    if (county.trim() === '') set(fill(answer));
  };

  return (
    <fieldset className={classes.group}>
      <legend>{say('Where')}</legend>
      <div>
        <Button type="button" loading={locating} onClick={takePosition} size="md">
          {say('Use this device’s position')}
        </Button>
      </div>
      {draft.latitude !== null && draft.longitude !== null && draft.coordinates === '' ? (
        <p className={classes.quiet}>
          {draft.latitude.toFixed(5)}, {draft.longitude.toFixed(5)}
          {draft.uncertaintyM === null
            ? ''
            : say(', to within {uncertaintyM} m', { uncertaintyM: draft.uncertaintyM })}
        </p>
      ) : null}
      {said === null ? null : (
        <p className={classes.note} data-tone={said.tone} role="status">
          {said.text}
        </p>
      )}
      <NamedPlacePicker
        placeId={draft.placeId}
        onChoose={(place) => set(fromPlace(place, draft))}
        onClear={() => set({ placeId: null })}
      />
      <TextField
        name="place.locality"
        label={say('In words')}
        help={say('So that somebody else would find the spot.')}
        required
        value={draft.locality}
        error={errorOf('place.locality')}
        onChange={(value) => set({ locality: value })}
      />
      <div className={classes.row}>
        <TextField
          name="place.county"
          label={say('County')}
          value={draft.county}
          error={errorOf('place.county')}
          onChange={(value) => set({ county: value })}
        />
        <TextField
          name="place.stateProvince"
          label={say('State or province')}
          value={draft.stateProvince}
          error={errorOf('place.stateProvince')}
          onChange={(value) => set({ stateProvince: value })}
        />
        <TextField
          name="place.country"
          label={say('Country (two letters)')}
          maxLength={2}
          required
          value={draft.country}
          error={errorOf('place.country')}
          onChange={(value) => set({ country: value.toUpperCase() })}
        />
      </div>
      <TextField
        name="place.verbatimCoordinates"
        label={say('Coordinates, as written')}
        help={say('Degrees in any form, UTM or MGRS; kept as you write them.')}
        value={draft.coordinates}
        error={errorOf('place.verbatimCoordinates') ?? errorOf('place.longitude')}
        onChange={(value) => set({ coordinates: value, latitude: null, longitude: null, uncertaintyM: null })}
        onBlur={() => void checkWritten()}
      />
    </fieldset>
  );
}

/** A named place brings all it knows. */
function fromPlace(place: PlaceRow, draft: FindDraft): Partial<FindDraft> {
  return {
    placeId: place.id,
    country: countryCode(place.country) ?? draft.country,
    stateProvince: place.stateProvince,
    county: place.county,
    locality: draft.locality || place.name,
    coordinates: '',
    latitude: place.latitude,
    longitude: place.longitude,
    uncertaintyM: place.uncertaintyM,
  };
}

/** 'United States' → 'US', by the names every browser carries; null when it knows no such country. */
function countryCode(name: string): string | null {
  if (/^[A-Za-z]{2}$/.test(name.trim())) return name.trim().toUpperCase();
  const names = new Intl.DisplayNames('en', { type: 'region', fallback: 'none' });
  const letters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
  const codes = letters.flatMap((first) => letters.map((second) => first + second));
  return codes.find((code) => names.of(code)?.toLowerCase() === name.trim().toLowerCase()) ?? null;
}

function NamedPlacePicker({
  placeId,
  onChoose,
  onClear,
}: {
  placeId: string | null;
  onChoose: (place: PlaceRow) => void;
  onClear: () => void;
}) {
  const [words, setWords] = useState('');
  const [asked] = useDebouncedValue(words.trim(), TYPING_MS);
  const search = useQuery({
    queryKey: ['places', 'pick', asked],
    queryFn: ({ signal }) =>
      callApi(`/api/places${queryString({ q: asked, size: 12 })}`, { schema: placePage, signal }),
    enabled: asked.length >= 2 && placeId === null,
    retry: false,
  });
  const rows = placeId === null ? (search.data?.rows ?? []) : [];
  return (
    <Picker
      label={say('A place of your list')}
      help={say('If it is one you name often.')}
      value={words}
      options={[...new Set(rows.map(({ name }) => name))]}
      onChange={(value) => {
        setWords(value);
        const chosen = rows.find(({ name }) => name === value);
        if (chosen !== undefined) onChoose(chosen);
        else if (placeId !== null) onClear();
      }}
    />
  );
}
