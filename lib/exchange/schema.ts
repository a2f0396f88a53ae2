import { z } from 'zod';
import { givenDay } from '@/lib/platform/days';
import { pageOf, pageQuery } from '@/lib/platform/paging';
import { PERMISSIONS, type Permission } from '@/lib/platform/permissions';

/** Largest sheet that may be handed in. */
export const LARGEST_IMPORT_BYTES = 200 * 1024 * 1024;

const KEPT_FROM_TOKENS: readonly string[] = [
  'tokens.manage',
  'webhooks.manage',
  'people.manage',
  'settings.manage',
];
/** What a token may be given: every permission but those that make accounts, other tokens and addresses that are told. */
export const TOKEN_SCOPES = (Object.keys(PERMISSIONS) as Permission[]).filter(
  (permission) => !KEPT_FROM_TOKENS.includes(permission),
);
export const LONGEST_TOKEN_DAYS = 366;

export const tokenRequest = z.object({
  name: z.string().trim().min(1, 'Say what the token is for.').max(80),
  personId: z.uuid('Choose for whom it acts.'),
  scopes: z.array(z.enum(TOKEN_SCOPES)).min(1, 'Choose at least one thing it may do.').max(100),
  expiresOn: givenDay('Say when it ends, year-month-day.'),
});
export type TokenRequest = z.infer<typeof tokenRequest>;

export const tokenRow = z.object({
  id: z.uuid(),
  name: z.string(),
  person: z.string(),
  scopes: z.array(z.string()),
  expiresAt: z.string(),
  revokedAt: z.string().nullable(),
  lastUsedAt: z.string().nullable(),
  state: z.enum(['good', 'expired', 'revoked']),
});
export type TokenRow = z.infer<typeof tokenRow>;
export const tokenRows = z.object({
  rows: z.array(tokenRow),
  people: z.array(z.object({ id: z.uuid(), name: z.string(), scopes: z.array(z.string()) })),
});
export type TokenRows = z.infer<typeof tokenRows>;
/** The secret is in this answer and nowhere else. */
export const tokenMade = z.object({ token: z.string(), row: tokenRow });
export const revokeRequest = z.object({ reason: z.string().trim().min(1, 'Say why it ends.').max(300) });

export const EXPORT_FORMS = ['occurrences', 'materials', 'data-package', 'simple-csv', 'geojson'] as const;
export type ExportForm = (typeof EXPORT_FORMS)[number];
/** Forms that tell of each material, with its permits and loans: not for those who see the catalogue only. */
export const MATERIAL_FORMS: readonly ExportForm[] = ['materials', 'data-package'];

export const exportQuery = z.object({
  /** `approved`: catalogued birds only; `all`: every accepted bird, for those who may see it. */
  birds: z.enum(['approved', 'all']).default('approved'),
  /** `shared`: places of sensitive taxa generalised; `exact` is for the house's own use. */
  places: z.enum(['shared', 'exact']).default('shared'),
  since: givenDay().optional(),
});
export type ExportQuery = z.output<typeof exportQuery>;

export const exportOverview = z.object({
  approved: z.number().int(),
  /** Null for those who see approved birds only. */
  all: z.number().int().nullable(),
  mayExact: z.boolean(),
  mayMaterials: z.boolean(),
  generalised: z.number().int(),
  mayImport: z.boolean(),
  mayTokens: z.boolean(),
  mayWebhooks: z.boolean(),
});
export type ExportOverview = z.infer<typeof exportOverview>;

export const qualityAnswer = z.object({
  records: z.number().int(),
  findings: z.array(
    z.object({
      test: z.string(),
      compliant: z.number().int(),
      notCompliant: z.number().int(),
      notApplicable: z.number().int(),
      examples: z.array(z.object({ occurrenceId: z.string(), comment: z.string() })),
    }),
  ),
  midsLevels: z.record(z.string(), z.number().int()),
  missingElements: z.record(z.string(), z.number().int()),
});
export type QualityAnswer = z.infer<typeof qualityAnswer>;

export const IMPORT_STATES = [
  'uploaded',
  'checking',
  'checked',
  'running',
  'cancelling',
  'cancelled',
  'done',
  'failed',
  'undoing',
  'undone',
] as const;
export type ImportState = (typeof IMPORT_STATES)[number];

export const importUpload = z.object({ fileName: z.string().trim().min(1).max(200) });

export const importMapping = z.object({
  /** Field by position of the column. */
  fields: z.record(z.string().regex(/^\d{1,4}$/), z.string().max(60)),
  /** Decisions by field and text (lower case) of the sheet. */
  values: z.record(z.string(), z.record(z.string(), z.string())).default({}),
  /** What a field holds where the sheet says nothing: the country of all rows. */
  defaults: z.record(z.string(), z.string().max(200)).default({}),
  dateOrder: z.enum(['day-first', 'month-first']).optional(),
});
export type ImportMappingRequest = z.output<typeof importMapping>;

export const importRow = z.object({
  id: z.uuid(),
  fileName: z.string(),
  state: z.enum(IMPORT_STATES),
  rowsTotal: z.number().int(),
  rowsDone: z.number().int(),
  rowsFailed: z.number().int(),
  createdAt: z.string(),
  startedBy: z.string(),
});
export type ImportRow = z.infer<typeof importRow>;
export const importPage = pageOf(importRow);
export const importListQuery = pageQuery;

const reason = z.object({
  fieldId: z.string().nullable(),
  reason: z.string(),
  count: z.number().int(),
});

export const importRecord = importRow.extend({
  header: z.array(z.string()),
  notes: z.array(z.string()),
  sample: z.array(z.array(z.string())),
  suggestions: z.array(
    z.object({
      index: z.number().int(),
      column: z.string(),
      fieldId: z.string().nullable(),
      confidence: z.number(),
      reason: z.string(),
    }),
  ),
  mapping: importMapping.nullable(),
  check: z
    .object({
      rows: z.number().int(),
      ready: z.number().int(),
      withErrors: z.number().int(),
      withWarnings: z.number().int(),
      reasons: z.array(reason),
      examples: z.array(z.object({ line: z.number().int(), errors: z.array(z.string()) })),
    })
    .nullable(),
  failure: z.string().nullable(),
  undone: z.object({ takenBack: z.number().int(), kept: z.array(z.string()) }).nullable(),
  abilities: z.object({
    check: z.boolean(),
    run: z.boolean(),
    cancel: z.boolean(),
    undo: z.boolean(),
    errors: z.boolean(),
  }),
});
export type ImportRecord = z.infer<typeof importRecord>;

export const undoRequest = z.object({ reason: z.string().trim().min(1, 'Say why it is undone.').max(500) });
