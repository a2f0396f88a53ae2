import { z } from 'zod';

/** The small documents that a record keeps beside its values. What does not fit reads as empty. */
const stamp = { at: z.string(), by: z.string() };

export const stepsDone = z.record(z.string(), z.object(stamp)).catch({});
export type StepsDone = z.infer<typeof stepsDone>;

export const overrides = z.record(z.string(), z.object({ ...stamp, reason: z.string() })).catch({});
export type Overrides = z.infer<typeof overrides>;

/** Remarks of reviewers, oldest first. One without a name of its own is named by its place. */
export const reviewRemarks = z
  .array(
    z.object({
      id: z.string().optional(),
      field: z.string(),
      remark: z.string(),
      ...stamp,
      answer: z
        .object({ ...stamp, text: z.string() })
        .nullable()
        .default(null),
    }),
  )
  .catch([])
  .transform((remarks) =>
    remarks.map((remark, at) => ({ ...remark, id: remark.id ?? `${remark.at} ${at}` })),
  );
export type ReviewRemarks = z.infer<typeof reviewRemarks>;
