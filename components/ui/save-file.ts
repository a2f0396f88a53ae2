/** Hands data to the person as a JSON file, without another request. */
export function saveJson(fileName: string, data: unknown): void {
  const address = URL.createObjectURL(
    new Blob([JSON.stringify(data, null, 2)], { type: 'application/json' }),
  );
  const link = document.createElement('a');
  link.href = address;
  link.download = fileName;
  link.click();
  URL.revokeObjectURL(address);
}
