import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

/** File names and captions are not in it: they may say where a sensitive bird was found. */
const file = z.object({ mediaType: z.string(), sha256: z.string() });

export const attachmentEvents = defineEvents({
  'attachments.added': file,
  'attachments.captioned': file,
  'attachments.removed': file,
  'attachments.original-read': file,
});
