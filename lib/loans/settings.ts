import { z } from 'zod';
import { type LoanSettings, loanSettingsSchema } from './schema';

const own = z.object({
  loans: loanSettingsSchema.prefault({}),
  country: z
    .string()
    .regex(/^[A-Z]{2}$/)
    .nullable()
    .default(null),
  address: z.string().nullable().default(null),
});

/** The terms of loans, and where the collection is, as far as its settings say. */
export function readLoanSettings(settings: unknown): {
  terms: LoanSettings;
  country: string | null;
  address: string | null;
} {
  const { loans, country, address } = own.parse(settings ?? {});
  return { terms: loans, country, address };
}
