import { z } from 'zod';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { ROLES } from '@/lib/platform/permissions';

export const MIN_PASSWORD = 12;

export const peopleQuery = pageQuery.extend({ q: z.string().trim().max(100).optional() });
export type PeopleQuery = z.infer<typeof peopleQuery>;

const roles = z.array(z.enum(ROLES)).max(ROLES.length);

export const personRow = z.object({
  id: z.uuid(),
  name: z.string(),
  email: z.string(),
  active: z.boolean(),
  roles,
  lastSignInAt: z.string().nullable(),
  invited: z.boolean(),
  /** Their own data were erased on request; the account is closed for good. */
  erased: z.boolean(),
});
export type PersonRow = z.infer<typeof personRow>;
export const peoplePage = pageOf(personRow);

export const personRecord = personRow.extend({
  version: z.int32(),
  /** A code of an app is asked at sign-in. */
  secondFactor: z.boolean(),
  abilities: z.object({ manage: z.boolean() }),
});
export type PersonRecord = z.infer<typeof personRecord>;

export const invitation = z.object({
  name: z.string().trim().min(1, 'Write the name.').max(120),
  email: z.email('Write an e-mail address.').max(200),
  roles: roles.min(1, 'Choose at least one role.'),
});
export type Invitation = z.infer<typeof invitation>;

export const rolesChange = z.object({ roles, reason: z.string().trim().min(1, 'Say why.').max(500) });
export const activeChange = z.object({
  active: z.boolean(),
  reason: z.string().trim().min(1, 'Say why.').max(500),
});
export const emptyBody = z.object({});
export const erasureRequest = z.object({
  reason: z.string().trim().min(1, 'Say how it was asked for.').max(500),
});
export const factorReset = z.object({ reason: z.string().trim().min(1, 'Say why.').max(500) });

const rowsShape = z.record(z.string(), z.array(z.record(z.string(), z.unknown())));
/** All that is kept of one person; instants are ISO 8601. */
export const personExport = z.object({
  madeAt: z.string(),
  account: z.object({
    id: z.uuid(),
    name: z.string(),
    email: z.string(),
    active: z.boolean(),
    locale: z.string(),
    createdAt: z.string(),
    lastSignInAt: z.string().nullable(),
    erasedAt: z.string().nullable(),
  }),
  /** Rows by table, without digests and keys: what an erasure takes away. */
  ownData: rowsShape,
  /** Roles and signed-off skills. */
  standing: rowsShape,
  /** The records in which the person stands, by table and column. */
  work: z.array(z.object({ table: z.string(), column: z.string(), rows: z.int(), ids: z.array(z.string()) })),
  /** What the person did, as the history has it. */
  events: z.array(
    z.object({
      seq: z.int(),
      at: z.string(),
      kind: z.string(),
      subjectType: z.string(),
      subjectId: z.string(),
    }),
  ),
});
export type PersonExport = z.infer<typeof personExport>;

/** The link is shown once; only its digest is kept. */
export const linkAnswer = z.object({ link: z.string(), expiresAt: z.string(), person: personRecord });

export const PURPOSES = ['first-administrator', 'invitation', 'password-reset'] as const;
export type Purpose = (typeof PURPOSES)[number];

export const linkDescription = z.object({ purpose: z.enum(PURPOSES), name: z.string().nullable() });

const password = z
  .string()
  .min(MIN_PASSWORD, `A password has at least ${MIN_PASSWORD} characters; a few words are easy to keep.`)
  .max(200);

/** What the page behind a one-time link sends: the first administrator also names the collection. */
export const linkUse = z.object({
  token: z.string().min(20).max(100),
  password,
  name: z.string().trim().min(1).max(120).optional(),
  email: z.email().max(200).optional(),
  collection: z
    .object({
      name: z.string().trim().min(1).max(200),
      code: z
        .string()
        .trim()
        .regex(/^[A-Z0-9-]{1,12}$/, 'Up to 12 capitals, figures and hyphens.'),
      timeZone: z
        .string()
        .refine(
          (zone) => Intl.supportedValuesOf('timeZone').includes(zone) || zone === 'UTC',
          'Choose a time zone from the list.',
        ),
    })
    .optional(),
});
export type LinkUse = z.infer<typeof linkUse>;
/** The first code of an app, behind the one-time link that showed its secret. */
export const enrolmentConfirmation = z.object({
  token: z.string().min(20).max(100),
  code: z
    .string()
    .trim()
    .regex(/^\d{3}\s?\d{3}$/, 'Write the six figures that the app shows.'),
});
export type EnrolmentConfirmation = z.infer<typeof enrolmentConfirmation>;
export const recoveryCodes = z.object({ codes: z.array(z.string()) });

export const enrolmentRequest = z.object({ password: z.string().min(1, 'Write your password.').max(200) });
export const enrolmentLink = z.object({ link: z.string() });

export const linkUsed = z.object({ email: z.string() });
