// Draws "Pass by pass" on screen. Everything it says comes finished in the page's own data; the table of passes on
// the same page says the same without it.
(() => {
  const figure = document.querySelector("[data-pass-by-pass]");
  const island = document.getElementById("pass-by-pass-data");
  if (!figure || !island || typeof Chart === "undefined") return;

  const data = JSON.parse(island.textContent);
  const canvas = figure.querySelector("canvas");
  const choice = figure.querySelector("select");
  const spoken = figure.querySelector("output");
  const dark = window.matchMedia("(prefers-color-scheme: dark)");

  // Shape and colour change together, so that neither is needed to tell two values apart.
  const shapes = ["circle", "rect", "triangle", "rectRot", "star", "cross", "rectRounded", "crossRot"];
  const inks = {
    light: ["#1f5a7a", "#a33b1f", "#14635f", "#8a6400", "#5b4a8a", "#56616f", "#8a2f5d", "#3f6b1e"],
    dark: ["#7fbfe0", "#f0977b", "#6fcac4", "#e0b84a", "#b9a8ec", "#b4bdc8", "#e59ac0", "#a5cf7f"],
  };
  const lineShapes = new Set(["star", "cross", "crossRot"]);

  figure.hidden = false;
  let chart;
  let current = -1;

  function groupsOf(condition) {
    if (!condition) return [{ label: data.words.passes, points: data.points.map((_, i) => i) }];
    const groups = condition.values.map((label) => ({ label, points: [] }));
    for (const [i, value] of condition.of.entries()) groups[value].points.push(i);
    return groups.filter((group) => group.points.length > 0);
  }

  function datasetOf(group, order) {
    const ink = (dark.matches ? inks.dark : inks.light)[order % shapes.length];
    const shape = shapes[order % shapes.length];
    return {
      label: group.label,
      data: group.points.map((i) => ({ x: i + 1, y: data.points[i].share, point: i })),
      showLine: false,
      clip: false,
      pointStyle: shape,
      pointRadius: data.points.length > 400 ? 3 : 5,
      pointHoverRadius: 8,
      pointBorderWidth: lineShapes.has(shape) ? 2 : 1,
      borderColor: ink,
      backgroundColor: ink,
    };
  }

  function draw() {
    const condition = data.conditions[Number(choice.value)];
    const styles = getComputedStyle(figure);
    const ink = styles.color;
    const rule = dark.matches ? "#3a4552" : "#cfd5dc";
    const font = { family: styles.fontFamily, size: 14 };
    if (chart) chart.destroy();
    chart = new Chart(canvas, {
      type: "line",
      data: { datasets: groupsOf(condition).map(datasetOf) },
      options: {
        animation: false,
        maintainAspectRatio: false,
        interaction: { mode: "nearest", intersect: true },
        onClick: (_, hits) => hits.length > 0 && follow(pointOf(hits[0])),
        onHover: (_, hits) => {
          canvas.classList.toggle("leads-somewhere", hits.length > 0);
        },
        plugins: {
          legend: {
            display: Boolean(condition),
            position: "bottom",
            align: "start",
            labels: { usePointStyle: true, pointStyleWidth: 12, boxHeight: 7, color: ink, font },
          },
          tooltip: {
            displayColors: false,
            callbacks: {
              title: () => "",
              label: (item) => data.points[item.raw.point].text,
            },
          },
        },
        scales: {
          x: {
            type: "linear",
            min: 0,
            max: data.points.length + 1,
            title: { display: true, text: data.words.across, color: ink, font },
            ticks: {
              color: ink,
              font,
              precision: 0,
              callback: (tick) => (tick >= 1 && tick <= data.points.length ? tick : ""),
            },
            grid: { display: false },
            border: { color: rule },
          },
          y: {
            min: data.from,
            max: 100,
            title: { display: true, text: data.words.up, color: ink, font },
            ticks: { color: ink, font },
            grid: { color: rule },
            border: { display: false },
          },
        },
      },
    });
  }

  function pointOf(hit) {
    return chart.data.datasets[hit.datasetIndex].data[hit.index].point;
  }

  function follow(point) {
    window.location.href = data.points[point].href;
  }

  function show(point) {
    current = point;
    const hits = chart.data.datasets.flatMap((dataset, datasetIndex) =>
      dataset.data.flatMap((entry, index) => (entry.point === point ? [{ datasetIndex, index }] : [])),
    );
    const place = chart.getDatasetMeta(hits[0].datasetIndex).data[hits[0].index];
    chart.setActiveElements(hits);
    chart.tooltip.setActiveElements(hits, { x: place.x, y: place.y });
    chart.update();
    spoken.textContent = data.points[point].text;
  }

  const last = data.points.length - 1;
  const steps = {
    ArrowRight: () => Math.min(current + 1, last),
    ArrowLeft: () => Math.max(current - 1, 0),
    Home: () => 0,
    End: () => last,
  };
  canvas.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && current >= 0) follow(current);
    else if (steps[event.key]) show(steps[event.key]());
    else return;
    event.preventDefault();
  });
  choice.addEventListener("change", draw);
  dark.addEventListener("change", draw);
  draw();
})();
