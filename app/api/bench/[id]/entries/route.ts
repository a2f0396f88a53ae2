import { listFieldEntries, writeEntries } from '@/lib/bench/service/entries';
import { entryHistory, writeAnswer } from '@/lib/bench/wire';
import { entryQuery, writeRequest } from '@/lib/bench/wire-acts';
import { defineRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';

export const GET = defineRoute({
  permission: 'bench.see',
  params: idParams,
  query: entryQuery,
  response: entryHistory,
  service: ({ actor, params, query }) => listFieldEntries(actor, params.id, query.field),
});

export const POST = defineRoute({
  permission: 'bench.write',
  params: idParams,
  body: writeRequest,
  response: writeAnswer,
  service: ({ context, params, body }) => writeEntries(context, params.id, body),
});
