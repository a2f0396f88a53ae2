import { personRecord } from '@/lib/people/schema';
import { showPerson } from '@/lib/people/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'people.manage',
  params: idParams,
  response: personRecord,
  service: ({ actor, params }) => showPerson(actor, params.id),
});
