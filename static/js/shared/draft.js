/** A drawing that is not saved yet, kept on this device through reloads and sign-outs. */

/**
 * @param {Storage|null} storage  Where to keep it; null when the browser allows none.
 * @param {string} key  Names the person and the property.
 * @returns {{read: () => object|null, write: (draft: object) => boolean, clear: () => void}}
 *   `write` tells whether it worked.
 */
export function draftIn(storage, key) {
  const attempt = (act, otherwise) => {
    try {
      return storage ? act() : otherwise;
    } catch {
      return otherwise;
    }
  };
  return {
    read: () => attempt(() => sound(JSON.parse(storage.getItem(key) ?? "null")), null),
    write: (draft) =>
      attempt(() => {
        storage.setItem(key, JSON.stringify(draft));
        return true;
      }, false),
    clear: () => attempt(() => storage.removeItem(key), undefined),
  };
}

/**
 * What a person is told about a draft found on opening the page.
 *
 * @param {{at: string, base: number}} draft  When it was last changed and on which
 *   saved drawing it was begun.
 * @param {number} number  The saved drawing the page shows.
 * @param {Date} now
 * @returns {string}
 */
export function draftNotice(draft, number, now) {
  const at = new Date(draft.at);
  const clock = at.toLocaleTimeString("en-US", { hour: "2-digit", minute: "2-digit", hour12: false });
  const day = at.toLocaleDateString("en-US", { year: "numeric", month: "short", day: "numeric" });
  const when = at.toDateString() === now.toDateString() ? clock : `${day}, ${clock}`;
  const notice = `You have a drawing from ${when} that is not saved.`;
  if (draft.base === number) return notice;
  return (
    `${notice} It was begun on drawing ${draft.base}; ` +
    `the saved one is now drawing ${number}. If you continue and save, yours replaces it.`
  );
}

function sound(draft) {
  const usable = Array.isArray(draft?.collection?.features) && !Number.isNaN(Date.parse(draft.at));
  return usable ? draft : null;
}
