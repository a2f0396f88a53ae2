import { activeChange, personRecord } from '@/lib/people/schema';
import { changeActive } from '@/lib/people/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'people.manage',
  params: idParams,
  body: activeChange,
  response: personRecord,
  service: ({ context, params, body }) => changeActive(context, params.id, body),
});
