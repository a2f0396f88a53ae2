import { accessionChange, accessionRecord } from '@/lib/accessions/schema';
import { changeAccession } from '@/lib/accessions/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const POST = defineRoute({
  permission: 'accessions.make',
  params: idParams,
  body: accessionChange,
  response: accessionRecord,
  service: ({ context, params, body }) => changeAccession(context, params.id, body),
});
