export {
  type ChecklistProblem,
  type ChecklistRow,
  type ChecklistTaxon,
  matchTaxonColumns,
  readChecklist,
} from '@/lib/taxa/checklist';
export { type ChecklistChange, type ChecklistDiff, diffChecklists } from '@/lib/taxa/checklist-diff';
export { type ParsedName, parseScientificName } from '@/lib/taxa/names';
