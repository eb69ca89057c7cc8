// The pointer over any plot reads the bar under it out of every source. The page is complete without it.
const data = JSON.parse(document.getElementById("bars").textContent);
const signed = v => v === null || v === undefined ? "–" : (v > 0 ? "+" : v < 0 ? "−" : "") + Math.abs(v).toFixed(1);
const barAt = seconds => { let i = data.starts.findIndex(s => s > seconds); return (i < 0 ? data.starts.length : Math.max(1, i)) - 1; };
const show = event => {
  const box = event.currentTarget.getBoundingClientRect();
  const x = (event.clientX - box.left) / box.width * data.full;
  const inside = x >= data.left && x <= data.left + data.width;
  const bar = barAt((x - data.left) / data.width * data.duration);
  for (const line of document.querySelectorAll(".cursor")) { const at = inside ? x : -9; line.setAttribute("x1", at); line.setAttribute("x2", at); }
  for (const article of document.querySelectorAll("article")) {
    const values = data.sources[article.dataset.source][bar];
    const told = data.figures.map(([name, unit], i) => `${name} ${values[i] === null && unit === "dB" ? "off" : `${signed(values[i])} ${unit}`}`);
    article.querySelector(".readout").textContent = inside ? `bar ${data.bars[bar]}: ${told.join(", ")}` : "";
  }
};
for (const plot of document.querySelectorAll(".plot")) plot.addEventListener("pointermove", show);
