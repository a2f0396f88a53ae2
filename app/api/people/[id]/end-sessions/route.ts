import { emptyBody, personRecord } from '@/lib/people/schema';
import { endSessions } from '@/lib/people/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'people.manage',
  params: idParams,
  body: emptyBody,
  response: personRecord,
  service: ({ context, params }) => endSessions(context, params.id),
});
