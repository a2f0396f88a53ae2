export * from './public-rules';
export { ruleOnFind } from './service/coverage';
export { listFinds, showFind } from './service/reading';
export { reportFind, takeInFind } from './service/report';
export { makeSlip } from './service/slips';
export { acceptFind, declineFind, startTriage } from './service/triage';
export { withdrawFind } from './service/withdraw';
