export { loadStarterChecklist } from '@/lib/taxa/service/reading';
export { type FoundTaxon, findTaxaByNames, searchTaxa } from '@/lib/taxa/service/taxa';
export { type TaxonChoice, taxonChoice } from '@/lib/taxa/wire-choice';
export * from './public-rules';
