import { z } from 'zod';
import { defineEvents } from '@/lib/platform/events';

const named = z.object({ person: z.string() });

export const peopleEvents = defineEvents({
  'people.collection-founded': z.object({ name: z.string(), code: z.string() }),
  'people.invited': named.extend({ roles: z.array(z.string()) }),
  'people.joined': named,
  'people.roles-changed': named.extend({ from: z.array(z.string()), to: z.array(z.string()) }),
  'people.active-changed': named.extend({ active: z.boolean() }),
  'people.sessions-ended': named,
  'people.reset-offered': named,
  'people.password-set': named,
  'people.exported': named,
  'people.erased': z.object({ nameStays: z.boolean() }),
  'people.second-factor-set': named,
  'people.second-factor-reset': named,
});
