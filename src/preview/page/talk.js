// Talk with the server: questions, orders, and the news it sends.

async function answer(response) {
  if (response.status === 204) return null;
  const text = await response.text();
  let said;
  try {
    said = JSON.parse(text);
  } catch {
    said = { message: text || "The answer cannot be read." };
  }
  if (!response.ok) throw Object.assign(new Error(said.message), { help: said.help });
  return said;
}

export const ask = (path, signal) => fetch(path, { signal, cache: "no-store" }).then(answer);

export const order = (path, what) =>
  fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(what) }).then(answer);

const area = (one) => one && { ...one, x: one.left, y: one.top };

/** A cover with areas by `x` and `y`, and empty lists where nothing could be drawn. */
export function settled(cover) {
  const { sheet, safe = [], elements = [], findings = [], levels = [], measures = [], inks = [] } = cover;
  if (sheet) Object.assign(sheet, { trim: area(sheet.trim), bleed: area(sheet.bleed), panels: sheet.panels.map(area) });
  const placed = findings.map((one) => ({ ...one, place: area(one.place) }));
  return { ...cover, safe: safe.map(area), elements: elements.map(area), findings: placed, levels, measures, inks };
}
