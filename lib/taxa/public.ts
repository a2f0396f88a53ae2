export { type TaxonChoice, taxonChoice } from '@/lib/taxa/schema';
export { loadStarterChecklist } from '@/lib/taxa/service/reading';
export { type FoundTaxon, findTaxaByNames, searchTaxa } from '@/lib/taxa/service/taxa';
export * from './public-rules';
