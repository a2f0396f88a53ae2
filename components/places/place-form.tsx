'use client';

import { Button, NativeSelect, Stack, Textarea, TextInput } from '@mantine/core';
import type { FormEvent, ReactNode } from 'react';
import { useState } from 'react';
import type { z } from 'zod';
import { ErrorSummary } from '@/components/ui/error-summary';
import { fieldId } from '@/components/ui/field-id';
import { problemOf } from '@/components/ui/problem';
import type { placeRequest } from '@/lib/places/schema';
import { phrases, say } from '@/lib/platform/words/say';
import { PlaceReading } from './place-reading';

type Request = z.input<typeof placeRequest>;

export type PlaceFields = {
  name: string;
  country: string;
  stateProvince: string;
  county: string;
  remarks: string;
  coordinates: string;
  datum: string;
  method: 'unknown' | 'gps' | 'map' | 'named';
  /** Accuracy of the receiver in m, scale of the map, or extent of the place in m, by the method. */
  figure: string;
  distance: string;
  unit: string;
  heading: string;
};

export const NO_PLACE: PlaceFields = {
  name: '',
  country: '',
  stateProvince: '',
  county: '',
  remarks: '',
  coordinates: '',
  datum: '',
  method: 'unknown',
  figure: '',
  distance: '',
  unit: 'km',
  heading: '',
};

/** The form's fields as what the server reads. */
export function toRequest(fields: PlaceFields): Request {
  const figure = fields.figure.trim() === '' ? null : Number(fields.figure);
  return {
    name: fields.name,
    country: fields.country,
    stateProvince: fields.stateProvince,
    county: fields.county,
    remarks: fields.remarks || null,
    written:
      fields.coordinates.trim() === ''
        ? null
        : {
            coordinates: fields.coordinates,
            datum: fields.datum,
            gps: fields.method === 'gps' ? { accuracyM: figure, recordedOn: null } : null,
            mapScaleDenominator: fields.method === 'map' ? figure : null,
            extentM: fields.method === 'named' ? figure : null,
            offset:
              fields.distance.trim() === ''
                ? null
                : { distance: fields.distance, unit: fields.unit, heading: fields.heading },
          },
  };
}

const FIGURES: Record<PlaceFields['method'], string | null> = phrases({
  unknown: null,
  gps: 'Accuracy the receiver showed, in m',
  map: 'Scale of the map, 1 to',
  named: 'From its centre to its far edge, in m',
});

/** Where a place is, as written, with what is understood of it beside. */
export function PlaceForm(props: {
  fields: PlaceFields;
  onChange: (fields: PlaceFields) => void;
  onSubmit: () => void;
  error: unknown;
  busy: boolean;
  submit: string;
  /** Coordinates stay as they are while these are left empty. */
  keepsCoordinates?: boolean;
  children?: ReactNode;
}) {
  const { fields, onChange } = props;
  const [attempt, setAttempt] = useState(0);
  const set = (name: keyof PlaceFields) => (event: { currentTarget: { value: string } }) =>
    onChange({ ...fields, [name]: event.currentTarget.value });
  const problem = problemOf(props.error);
  const problems = problem.fields ?? [];
  const submit = (event: FormEvent) => {
    event.preventDefault();
    setAttempt(attempt + 1);
    props.onSubmit();
  };
  const text = (name: keyof PlaceFields, label: string, extra: object = {}) => (
    <TextInput id={fieldId(name)} label={label} value={fields[name]} onChange={set(name)} {...extra} />
  );
  const request = toRequest(fields);
  const figure = FIGURES[fields.method];
  return (
    <form onSubmit={submit}>
      <Stack gap="md" maw={720}>
        <ErrorSummary problems={problems} title={problem.title} attempt={attempt} />
        {props.error && problems.length === 0 ? <p role="alert">{problem.title}</p> : null}
        {text('name', say('Name of the place'), { required: true })}
        {text('country', say('Country'), { required: true })}
        {text('stateProvince', say('State or province'))}
        {text('county', say('County'))}
        <TextInput
          id={fieldId('written.coordinates')}
          label={props.keepsCoordinates ? say('New coordinates as written') : say('Coordinates as written')}
          description={
            props.keepsCoordinates
              ? say('Leave it empty to keep those it has.')
              : say('Degrees in any form, UTM or MGRS: 39°57\'40"N 82°59\'56"W')
          }
          value={fields.coordinates}
          onChange={set('coordinates')}
        />
        {text('datum', say('Datum, as written'), { placeholder: 'WGS84' })}
        <NativeSelect
          label={say('Where the coordinates come from')}
          value={fields.method}
          onChange={set('method')}
          data={[
            { value: 'unknown', label: say('Not recorded') },
            { value: 'gps', label: say('Satellite receiver or phone') },
            { value: 'map', label: say('Paper map') },
            { value: 'named', label: say('Centre of a named place') },
          ]}
        />
        {figure === null ? null : text('figure', figure, { inputMode: 'numeric' })}
        {text('distance', say('Distance from there, if one was written'), { inputMode: 'decimal' })}
        {fields.distance === '' ? null : (
          <>
            {text('unit', say('Unit of the distance'))}
            {text('heading', say('Direction'), { placeholder: say('NE or 45°') })}
          </>
        )}
        {request.written ? (
          <PlaceReading
            place={{
              ...request.written,
              named: { country: fields.country, stateProvince: fields.stateProvince, county: fields.county },
            }}
          />
        ) : null}
        <Textarea
          id={fieldId('remarks')}
          label={say('Remarks')}
          autosize
          value={fields.remarks}
          onChange={set('remarks')}
        />
        {props.children}
        <div>
          <Button type="submit" loading={props.busy}>
            {props.submit}
          </Button>
        </div>
      </Stack>
    </form>
  );
}
