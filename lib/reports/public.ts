export { digestReport } from './digest';
export { diffReports } from './rules/differences';
export { computeReport } from './rules/ledger';
export { checkReadyToSign } from './rules/warnings';
export type { LedgerBird, LedgerInput, SalvageReport, StockEvent } from './schema';
export { amendReport, explainWarnings, markReportReady, openReport, signReport } from './service/commands';
export { showReportDesk } from './service/desk';
export { showReport } from './service/record';
export { verifySignedReports } from './verify';
