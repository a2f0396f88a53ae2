import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

const loan = z.object({ number: z.string() });
const line = z.object({ loan: z.string(), material: z.string() });

export const loanEvents = defineEvents({
  'loans.borrower-made': z.object({ institution: z.string(), country: z.string() }),
  'loans.asked': loan.extend({
    kind: z.string(),
    borrower: z.string(),
    materials: z.array(z.string()),
    dueOn: z.string().nullable(),
  }),
  'loans.link-made': z.object({ link: z.string(), until: z.string() }),
  'loans.link-ended': z.object({ link: z.string() }),
  'loans.asked-by-link': loan.extend({ kind: z.string(), link: z.string(), wanted: z.number().int() }),
  'loans.materials-chosen': loan.extend({ materials: z.array(z.string()) }),
  'loans.taken-into-review': loan,
  'loans.granted': loan,
  'loans.declined': loan,
  'loans.withdrawn': loan,
  'loans.packed': loan.extend({ materials: z.array(z.string()) }),
  'loans.unpacked': loan,
  'loans.documents-set': loan.extend({
    documents: z.array(z.object({ document: z.string(), reference: z.string() })),
  }),
  'loans.sent': loan.extend({ on: z.string(), dueOn: z.string() }),
  'loans.received': loan.extend({ on: z.string() }),
  'loans.lines-settled': loan.extend({
    lines: z.array(z.object({ material: z.string(), outcome: z.string(), on: z.string() })),
    balance: z.string(),
  }),
  'loans.extended': loan.extend({
    from: z.string(),
    to: z.string(),
    askedOn: z.string(),
    note: z.string().nullable(),
  }),
  'loans.reminded': loan.extend({ key: z.string(), kind: z.string(), days: z.number().int() }),
  'loans.closed': loan.extend({ balance: z.string() }),
  'loans.material-sent': line.extend({ borrower: z.string() }),
  'loans.material-settled': line.extend({ outcome: z.string(), condition: z.string().nullable() }),
});
