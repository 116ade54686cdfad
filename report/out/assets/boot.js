// Puts live charts in the place of the still ones.

var charts = [], later;

function colorsOfPage() {
  var page = getComputedStyle(document.documentElement);
  function color(name) { return page.getPropertyValue('--' + name).trim(); }
  return {
    series: [1, 2, 3, 4, 5, 6].map(function (i) { return color('c' + i); }),
    ink: color('ink'), faint: color('faint'), line: color('line'), paper: color('paper')
  };
}

function live(data) {
  var box = document.getElementById(data.dataset.chart), place = box.querySelector('.live');
  var option = JSON.parse(data.textContent);
  place.textContent = '';
  box.classList.add('alive'); // only now has the place a width
  prepare(option, place.clientWidth);
  place.style.height = +box.dataset.height + legendHeight(option, place.clientWidth) + 'px';
  var chart = echarts.init(place, theme(), {renderer: 'canvas', devicePixelRatio: Math.max(2, window.devicePixelRatio || 1)});
  chart.setOption(option);
  return chart;
}

function draw() {
  colors = colorsOfPage();
  charts.forEach(function (c) { c.dispose(); });
  charts = Array.prototype.map.call(document.querySelectorAll('script[data-chart]'), live);
  document.documentElement.dataset.charts = charts.length;
}

function start() {
  draw();
  window.matchMedia('(prefers-color-scheme: dark)').addEventListener('change', draw);
  var width = window.innerWidth;
  window.addEventListener('resize', function () {
    if (window.innerWidth === width) { return; } // a phone's bars come and go
    width = window.innerWidth;
    clearTimeout(later);
    later = setTimeout(draw, 100);
  });
}

// On a phone the list of pages is folded away, so that the answer comes first.
var pages = document.querySelector('nav details'), narrow = window.matchMedia('(max-width: 34rem)');
function fold() { pages.open = !narrow.matches; }
fold();
narrow.addEventListener('change', fold);

function run(script) { document.head.appendChild(script); }

// A folder of pages shares one copy of the drawing library beside them; a page
// by itself holds its own, packed. Where it cannot be unpacked the still charts
// stay.
var beside = document.body.dataset.library, packed = document.getElementById('library');
if (beside) {
  run(Object.assign(document.createElement('script'), {src: beside, onload: start}));
} else if (packed && window.DecompressionStream) {
  var bytes = Uint8Array.from(atob(packed.textContent), function (c) { return c.charCodeAt(0); });
  new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'))).text().then(function (text) {
    run(Object.assign(document.createElement('script'), {textContent: text}));
    start();
  });
}
