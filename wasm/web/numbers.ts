/** Numbers in the reader's way: decimal sign by locale, digits by uncertainty. */

const cache = new Map<string, Intl.NumberFormat>();

function format(lang: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = lang + JSON.stringify(options);
  let f = cache.get(key);
  if (!f) {
    f = new Intl.NumberFormat(lang, options);
    cache.set(key, f);
  }
  return f;
}

/** With so many decimals. */
export function fixed(x: number, decimals: number, lang: string): string {
  const d = Math.min(Math.max(decimals, 0), 20);
  return format(lang, { minimumFractionDigits: d, maximumFractionDigits: d, useGrouping: "min2" }).format(x);
}

/** With so many significant digits, no trailing zeros. */
export function digits(x: number, significant: number, lang: string): string {
  if (x !== 0 && (Math.abs(x) < 1e-4 || Math.abs(x) >= 1e9)) {
    return format(lang, { notation: "scientific", maximumSignificantDigits: significant }).format(x);
  }
  return format(lang, { maximumSignificantDigits: significant, useGrouping: "min2" }).format(x);
}

/** Decimals that show two digits of a half width; nothing sensible gives `undefined`. */
export function decimalsFor(half: number): number | undefined {
  if (!(half > 0) || !Number.isFinite(half)) return undefined;
  return Math.max(0, 1 - Math.floor(Math.log10(half)));
}

/** Value, half width and ends of an interval, digits by its width. */
export function interval(value: number, lo: number, hi: number, lang: string) {
  const half = (hi - lo) / 2;
  const d = decimalsFor(half);
  if (d === undefined) return { value: digits(value, 6, lang), half: "", low: "", high: "" };
  return { value: fixed(value, d, lang), half: fixed(half, d, lang), low: fixed(lo, d, lang), high: fixed(hi, d, lang) };
}
