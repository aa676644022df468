import { useEffect, useState } from "preact/hooks";

type Tell = (text: string) => string;

const asWritten: Tell = (text) => text;

/**
 * Says what comes from the core or the gateway in the language in use. Its book is fetched only
 * when there is something to say; until then, and where it cannot be had, the English text stands.
 *
 * @param wanted whether anything is to be said in another language than English
 */
export function useCoreText(wanted: boolean): Tell {
  const [tell, setTell] = useState<Tell>(() => asWritten);
  useEffect(() => {
    if (!wanted) return;
    let here = true;
    import("../language/core-words.ts").then(
      ({ coreText }) => here && setTell(() => coreText),
      () => undefined,
    );
    return () => {
      here = false;
    };
  }, [wanted]);
  return tell;
}
