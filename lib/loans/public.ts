export { loanBalance, overdueDays } from './rules';
export { listLoans, showLoan } from './service/ask';
