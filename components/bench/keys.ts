import type { FieldId } from '@/lib/bench/fields';
import type { BenchListQuery } from '@/lib/bench/wire-desk';

export const benchKeys = {
  desk: ['bench', 'desk'] as const,
  list: (query: Partial<BenchListQuery>) => ['bench', 'list', query] as const,
  record: (id: string) => ['bench', 'record', id] as const,
  field: (id: string, field: FieldId) => ['bench', 'field', id, field] as const,
  colleagues: ['bench', 'colleagues'] as const,
  lab: ['bench', 'lab'] as const,
};
