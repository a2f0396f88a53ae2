import { z } from 'zod';
import { defineRoute, defineUploadRoute } from '@/lib/platform/http';
import { idParams } from '@/lib/platform/params';
import { listLogs, loadLog } from '@/lib/storage/service/logs';
import { loadLogQuery, logRow, logRows } from '@/lib/storage/wire-logs';

export const GET = defineRoute({
  permission: 'storage.see',
  params: idParams,
  response: logRows,
  service: ({ actor, params }) => listLogs(actor, params.id),
});

export const POST = defineUploadRoute({
  permission: 'storage.manage',
  params: idParams,
  query: loadLogQuery,
  response: z.object({ rows: z.array(logRow) }),
  service: ({ context, params, query, body }) => loadLog(context, params.id, query, body),
});
