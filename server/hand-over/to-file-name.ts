/** The name in plain letters, as every system takes it. */
export function toFileName(name: string): string {
  const plain = name.replace(/[^\w.-]+/g, '-').replace(/^[-.]+|[-.]+$/g, '');
  return plain.toLowerCase().slice(0, 100) || 'survey';
}
