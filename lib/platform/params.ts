import { z } from 'zod';

/** Address of one record. */
export const idParams = z.object({ id: z.uuid() });
