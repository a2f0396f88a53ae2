import { exportPerson } from '@/lib/people/privacy';
import { emptyBody, personExport } from '@/lib/people/schema';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'people.manage',
  params: idParams,
  body: emptyBody,
  response: personExport,
  service: ({ context, params }) => exportPerson(context, params.id),
});
