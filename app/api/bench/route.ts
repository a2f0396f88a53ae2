import { listRecords, startRecord } from '@/lib/bench/service/records';
import { benchRecord } from '@/lib/bench/wire';
import { startRequest } from '@/lib/bench/wire-acts';
import { benchListQuery, benchPage } from '@/lib/bench/wire-desk';
import { defineRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'bench.see',
  query: benchListQuery,
  response: benchPage,
  service: ({ actor, query }) => listRecords(actor, query),
});

export const POST = defineRoute({
  permission: 'bench.write',
  body: startRequest,
  response: benchRecord,
  service: ({ context, body }) => startRecord(context, body.birdId),
});
