import { loadReferenceTable } from '@/lib/bench/service/lab';
import { labSettings, referenceRequest } from '@/lib/bench/wire-lab';
import { defineRoute } from '@/lib/platform/http';

export const POST = defineRoute({
  permission: 'bench.manage',
  body: referenceRequest,
  response: labSettings,
  service: ({ context, body }) => loadReferenceTable(context, body),
});
