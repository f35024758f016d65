/** The address of a file beside the script. The name is given from outside, so that the bundler leaves it alone. */
export function beside(name: string): URL {
  return new URL(name, import.meta.url);
}
