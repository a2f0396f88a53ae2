export { PackageError, readPackage } from './package/read';
export { writePackage } from './package/write';
