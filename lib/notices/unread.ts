import { z } from 'zod';

/** How many notices a person has not read. */
export const unreadCount = z.object({ unread: z.number().int() });
