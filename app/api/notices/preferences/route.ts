import { preferences, preferencesRequest } from '@/lib/notices/schema';
import { setPreferences, showPreferences } from '@/lib/notices/service/notices';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'notices.see',
  response: preferences,
  service: ({ actor }) => showPreferences(actor),
});

export const PUT = defineRoute({
  permission: 'notices.see',
  body: preferencesRequest,
  response: preferences,
  service: ({ context, body }) => setPreferences(context, body),
});
