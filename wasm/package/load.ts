/** Where a module comes from: a URL, its bytes, or a compiled module. */
export type Source = URL | string | BufferSource | WebAssembly.Module;

interface Bindings {
  default(options: { module_or_path: Source | Promise<Source> }): Promise<unknown>;
}

/** A loader that loads once and then gives the same object. */
export function loader<R extends Bindings, A>(raw: R, own: () => Source | Promise<Source>, make: (raw: R) => A) {
  let loading: Promise<A> | undefined;
  return (source?: Source): Promise<A> => {
    loading ??= raw.default({ module_or_path: source ?? own() }).then(
      () => make(raw),
      (e: unknown) => {
        loading = undefined; // a failed load may be tried again
        throw e;
      },
    );
    return loading;
  };
}
