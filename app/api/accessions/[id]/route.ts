import { accessionRecord } from '@/lib/accessions/schema';
import { showAccession } from '@/lib/accessions/service';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'accessions.see',
  params: idParams,
  response: accessionRecord,
  service: ({ actor, params }) => showAccession(actor, params.id),
});
