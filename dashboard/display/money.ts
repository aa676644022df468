import { locale } from "../language/live-words.ts";
import { words } from "../language/words.ts";

/** An amount in the shop's currency; without one the number, and that none is set. */
export function moneyText(amount: number, currency: string | null): string {
  const options: Intl.NumberFormatOptions =
    currency === null
      ? { minimumFractionDigits: 2, maximumFractionDigits: 2 }
      : { style: "currency", currency };
  const text = new Intl.NumberFormat(locale.value, options).format(amount);
  return currency === null ? `${text} (${words.state.noCurrency})` : text;
}
