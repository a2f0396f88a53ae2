export { PackageError, readPackage } from './package/read';
export { findMigration } from './package/tables';
export { atOneSnapshot, sumTables, type TableSum, writePackage } from './package/write';
