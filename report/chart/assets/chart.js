// What a chart's data leaves open, for a live chart and a still one alike: its
// colors, the few shapes that the library does not know, and what depends on
// the width.

// Six colors that tell series apart, then ink, faint ink, faint lines, paper.
var colors;

function theme() {
  var axis = {
    axisLine: {lineStyle: {color: colors.faint}}, axisTick: {lineStyle: {color: colors.faint}}, axisLabel: {color: colors.ink},
    nameTextStyle: {color: colors.faint}, splitLine: {lineStyle: {color: colors.line}}
  };
  return {
    color: colors.series, textStyle: {fontFamily: 'sans-serif'},
    legend: {textStyle: {color: colors.ink}, itemWidth: 18, itemHeight: 10},
    tooltip: {
      confine: true,
      backgroundColor: colors.paper, borderColor: colors.faint, textStyle: {color: colors.ink},
      extraCssText: 'white-space:normal;max-width:18rem;overflow-wrap:anywhere'
    },
    boxplot: {itemStyle: {color: colors.paper, borderWidth: 1.5}},
    categoryAxis: axis, valueAxis: axis, timeAxis: axis, logAxis: axis
  };
}

// A line with capped ends at the row of the first value, from the second value
// to the third.
function errorBar(params, api) {
  var from = api.coord([api.value(1), api.value(0)]), to = api.coord([api.value(2), api.value(0)]), cap = 5;
  function line(x1, y1, x2, y2) {
    return {type: 'line', shape: {x1: x1, y1: y1, x2: x2, y2: y2}, style: {stroke: colors.ink, lineWidth: 1.5}};
  }
  return {
    type: 'group', children: [
      line(from[0], from[1], to[0], to[1]),
      line(from[0], from[1] - cap, from[0], from[1] + cap),
      line(to[0], to[1] - cap, to[0], to[1] + cap)
    ]
  };
}

// The area between the second and the third value of all points together, over
// the first.
function band(params, api) {
  var above = [], below = [], n = params.dataInsideLength;
  if (params.dataIndexInside > 0) { return; }
  for (var i = 0; i < n; i++) {
    below.push(api.coord([api.value(0, i), api.value(1, i)]));
    above.push(api.coord([api.value(0, i), api.value(2, i)]));
  }
  return {type: 'polygon', shape: {points: below.concat(above.reverse())}, style: {fill: api.visual('color'), opacity: 0.15}};
}

// A bar at the row of the first value, from the second value to the third.
function span(params, api) {
  var from = api.coord([api.value(1), api.value(0)]), to = api.coord([api.value(2), api.value(0)]), high = 18;
  var x = Math.min(from[0], to[0]), wide = Math.max(1, Math.abs(to[0] - from[0]));
  return {type: 'rect', shape: {x: x, y: from[1] - high / 2, width: wide, height: high}, style: {fill: api.visual('color')}};
}

// The only functions that a chart's data can name, and the only place where it
// can name them.
var shapes = new Map([['$fn:errorBar', {draw: errorBar, z: 5}], ['$fn:band', {draw: band, z: 1}], ['$fn:span', {draw: span, z: 2}]]);

// The names of the series that have anything to show, each once.
function seriesNames(option) {
  var drawn = option.series.filter(function (s) { return s.name && s.data.length > 0; });
  return Array.from(new Set(drawn.map(function (s) { return s.name; })));
}

// How much higher than usual a chart of a width is to be: by the lines, beyond
// the first, that the names of the series take, about.
function legendHeight(option, width) {
  var lines = 1, used = 0;
  seriesNames(option).forEach(function (name) {
    var needs = 33 + 6.4 * name.length;
    if (used > 0 && used + needs > width) { lines++; used = 0; }
    used += needs;
  });
  return option.legend.show ? 22 * (lines - 1) : 0;
}

// prepare makes a chart's data what the library takes.
function prepare(option, width) {
  option.grid[0].top = +option.grid[0].top + legendHeight(option, width);
  option.legend.data = seriesNames(option);
  option.series.forEach(function (s) {
    if (s.type === 'custom') {
      var shape = shapes.get(s.renderItem);
      s.renderItem = shape.draw;
      s.z = shape.z;
      s.silent = shape.draw === band;
    }
    if (s.markLine) {
      s.markLine.silent = true;
      s.markLine.lineStyle.color = colors.ink;
      Object.assign(s.markLine.label, {color: colors.ink, backgroundColor: colors.paper, padding: 2});
    }
    if (s.type === 'scatter') { s.z = 4; } // above lines
    if (s.label) {
      s.silent = true;
      s.label.color = colors.ink;
      s.itemStyle = {opacity: 1};
    }
    if (option.xAxis[0].type === 'time') {
      s.data.forEach(function (d) { d.value[0] = Date.parse(d.value[0]); }); // a day begins the same everywhere
    }
  });
  option.useUTC = true;
  option.xAxis.forEach(function (x) {
    if (x.type === 'category') { return; }
    if (x.type === 'log') { x.logBase = 2; }
    x.splitNumber = Math.max(2, Math.min(6, Math.floor((width - 150) / 50))); // numbers need room
    x.axisLabel = Object.assign({}, x.axisLabel, {hideOverlap: true});
  });
  option.yAxis.forEach(function (y) {
    y.nameTextStyle = {align: y.gridIndex ? 'right' : 'left'};
    if (y.gridIndex) { y.axisTick = {show: false}; }
  });
  option.tooltip.formatter = function (p) { return echarts.format.encodeHTML(p.name); };
}
