import { importListQuery, importPage, importRecord, importUpload } from '@/lib/exchange/schema';
import { handInSheet, listImports } from '@/lib/exchange/service/imports';
import { defineRoute, defineUploadRoute } from '@/lib/platform/http';

export const GET = defineRoute({
  permission: 'imports.run',
  query: importListQuery,
  response: importPage,
  service: ({ actor, query }) => listImports(actor, query),
});

export const POST = defineUploadRoute({
  permission: 'imports.run',
  query: importUpload,
  response: importRecord,
  service: ({ context, query, body }) => handInSheet(context, query.fileName, body),
});
