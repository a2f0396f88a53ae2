import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';
import { pageQuery } from '@/lib/platform/paging';
import { placeRow } from './wire-list';

const words = (most: number) => z.string().trim().max(most);

export const namedPlace = z.object({
  country: words(100).default(''),
  stateProvince: words(100).default(''),
  county: words(100).default(''),
});

/** A place as somebody wrote it, with what is known of how it was found. */
export const placeToRead = z.object({
  /** Both coordinates, or the latitude where `longitude` has a field of its own. */
  coordinates: words(200),
  longitude: words(100).nullable().default(null),
  /** As written, "NAD27"; empty when nobody wrote it. */
  datum: words(60).default(''),
  gps: z
    .object({ accuracyM: z.number().positive().max(10_000).nullable(), recordedOn: givenDay().nullable() })
    .nullable()
    .default(null),
  mapScaleDenominator: z.number().int().min(100).max(100_000_000).nullable().default(null),
  /** From the centre of the named place to its far edge. */
  extentM: z.number().positive().max(1_000_000).nullable().default(null),
  offset: z
    .object({ distance: words(20), unit: words(20), heading: words(20) })
    .nullable()
    .default(null),
  named: namedPlace.prefault({}),
});
export type PlaceToRead = z.output<typeof placeToRead>;

const point = z.object({ latitude: z.number(), longitude: z.number() });

export const uncertaintyTerm = z.object({
  id: z.string(),
  label: z.string(),
  valueM: z.number(),
  formula: z.string(),
});

/** What was understood of a written place; `refusal` says why nothing was. */
export const placeReading = z.object({
  verbatim: z.string(),
  point: point.nullable(),
  system: z.string().nullable(),
  datum: z.string().nullable(),
  precisionDegrees: z.number().nullable(),
  /** For dwc:coordinateUncertaintyInMeters. */
  uncertaintyM: z.number().nullable(),
  terms: z.array(uncertaintyTerm),
  formula: z.string().nullable(),
  protocol: z.string(),
  remarks: z.array(z.string()),
  agreement: z
    .object({
      verdict: z.enum(['agrees', 'near', 'other-place', 'in-the-sea', 'unknown-name', 'nothing-named']),
      message: z.string(),
      distanceM: z.number().nullable(),
      found: z
        .object({
          countryCode: z.string(),
          country: z.string(),
          state: z.string().nullable(),
          county: z.string().nullable(),
          countyFips: z.string().nullable(),
        })
        .nullable(),
    })
    .nullable(),
  /** Signs or order turned about so that the place named fits; offered, never made. */
  suggestions: z.array(point),
  refusal: z.object({ code: z.string(), message: z.string(), readings: z.array(z.string()) }).nullable(),
});
export type PlaceReading = z.infer<typeof placeReading>;

export const placeListQuery = pageQuery.extend({
  q: z.string().trim().max(100).optional(),
  shown: z.enum(['in-use', 'retired']).default('in-use'),
});
export type PlaceListQuery = z.infer<typeof placeListQuery>;

export const placeRequest = z.object({
  name: z.string().trim().min(1, 'Name the place.').max(300),
  country: z.string().trim().min(1, 'Name the country.').max(100),
  stateProvince: words(100).default(''),
  county: words(100).default(''),
  /** Null for a place without coordinates. */
  written: placeToRead.omit({ named: true }).nullable().default(null),
  remarks: words(1000).nullish(),
});
export type PlaceRequest = z.output<typeof placeRequest>;

export const placeChange = placeRequest.extend({
  active: z.boolean(),
  version: z.int32(),
  reason: z.string().trim().min(1, 'Say why it is changed.').max(500),
  /** Leaves the coordinates as they are and passes `written` over. */
  keepCoordinates: z.boolean().default(false),
});
export type PlaceChange = z.output<typeof placeChange>;

export const placeRecord = placeRow.extend({
  verbatimCoordinates: z.string().nullable(),
  uncertainty: z.object({ terms: z.array(uncertaintyTerm), formula: z.string() }).nullable(),
  agreement: placeReading.shape.agreement,
  remarks: z.string().nullable(),
  birds: z.number().int(),
  version: z.int32(),
  abilities: z.object({ change: z.boolean() }),
});
export type PlaceRecord = z.infer<typeof placeRecord>;
