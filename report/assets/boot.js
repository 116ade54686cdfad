(function () {
  'use strict';

  // Each set of series colours can be told apart by people who see red and
  // green alike (after Okabe and Ito 2008), lighter on a dark page.
  var themes = {
    light: theme(['#0072b2', '#b35900', '#007a5a', '#8f4a78', '#5a5a5a', '#3f8fbf'], '#1c2126', '#5b646d', '#dde1e5', '#ffffff'),
    dark: theme(['#6fb9e6', '#f0a347', '#4fc79f', '#dc9bc2', '#bdbdbd', '#a5d3ee'], '#e8eaed', '#a9b1b9', '#3a4148', '#181c20')
  };

  function theme(color, ink, faint, line, paper) {
    var axis = {
      axisLine: {lineStyle: {color: faint}}, axisTick: {lineStyle: {color: faint}}, axisLabel: {color: ink},
      nameTextStyle: {color: faint}, splitLine: {lineStyle: {color: line}}
    };
    return {
      ink: ink, paper: paper, color: color, textStyle: {fontFamily: 'sans-serif'},
      legend: {textStyle: {color: ink}, itemWidth: 18, itemHeight: 10},
      tooltip: {
        confine: true,
        backgroundColor: paper, borderColor: faint, textStyle: {color: ink},
        extraCssText: 'white-space:normal;max-width:18rem;overflow-wrap:anywhere'
      },
      categoryAxis: axis, valueAxis: axis, timeAxis: axis
    };
  }

  var now = themes.light;

  // A line with capped ends at the row of the first value, from the second
  // value to the third.
  function errorBar(params, api) {
    var from = api.coord([api.value(1), api.value(0)]), to = api.coord([api.value(2), api.value(0)]), cap = 5;
    function line(x1, y1, x2, y2) {
      return {type: 'line', shape: {x1: x1, y1: y1, x2: x2, y2: y2}, style: {stroke: now.ink, lineWidth: 1.5}};
    }
    return {
      type: 'group', children: [
        line(from[0], from[1], to[0], to[1]),
        line(from[0], from[1] - cap, from[0], from[1] + cap),
        line(to[0], to[1] - cap, to[0], to[1] + cap)
      ]
    };
  }

  // The only functions that a chart's data can name, and the only place where
  // it can name them.
  var shapes = new Map([['$fn:errorBar', errorBar]]);

  function prepare(option, width) {
    if (width < 480 && option.legend.show) { option.grid.top = +option.grid.top + 20; } // the legend takes two lines
    option.series.forEach(function (s) {
      if (s.type === 'custom') { s.renderItem = shapes.get(s.renderItem); s.z = 5; }
      if (s.markLine) {
        s.markLine.silent = true;
        s.markLine.lineStyle.color = now.ink;
        Object.assign(s.markLine.label, {color: now.ink, backgroundColor: now.paper, padding: 2});
      }
    });
    option.yAxis.forEach(function (y) { y.nameTextStyle = {align: 'left'}; });
    option.tooltip.formatter = function (p) { return echarts.format.encodeHTML(p.name); };
    return option;
  }

  var charts = [], later;

  function draw(scheme, width) {
    now = themes[scheme];
    charts.forEach(function (c) { c.dispose(); });
    charts = Array.prototype.map.call(document.querySelectorAll('script[data-chart]'), function (data) {
      var box = document.getElementById(data.dataset.chart);
      box.textContent = '';
      box.style.height = box.dataset.height + 'px';
      var chart = echarts.init(box, now, {renderer: 'canvas', devicePixelRatio: Math.max(2, window.devicePixelRatio || 1), width: width});
      chart.setOption(prepare(JSON.parse(data.textContent), chart.getWidth()));
      return chart;
    });
    document.documentElement.dataset.charts = charts.length;
  }

  var dark = window.matchMedia('(prefers-color-scheme: dark)');
  function screen() { draw(dark.matches ? 'dark' : 'light'); }

  function start() {
    screen();
    dark.addEventListener('change', screen);
    window.addEventListener('resize', function () { clearTimeout(later); later = setTimeout(screen, 100); });
    window.addEventListener('beforeprint', function () { draw('light', 640); });
    window.addEventListener('afterprint', screen);
  }

  // A folder of pages shares one copy of the drawing library beside them; a
  // page by itself has brought its own.
  var library = document.body.dataset.library;
  if (window.echarts) {
    start();
  } else if (library) {
    var script = document.createElement('script');
    script.src = library;
    script.onload = start;
    document.head.appendChild(script);
  }
})();
