export { type LabelContent, type LabelKind, labelKindNames, labelKinds } from './kinds';
export { listMissingTagFacts } from './kinds/specimen-tag';
export { checkLabels, renderLabels, writeLabels } from './render';
export {
  type LabelProblem,
  type LabelStock,
  LabelsDoNotFitError,
  labelStockSchema,
  type PrintSettings,
  printSettingsSchema,
} from './schema';
export { getLabelStock, labelStocks } from './stocks';
