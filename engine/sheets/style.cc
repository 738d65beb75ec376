#include "sheets/html.h"

namespace whichlink::sheets {

namespace {

// Black on white, and nothing told by a colour: kinds are told by words, and by lines that print.
// Fonts are the reader's own. Paper has no fixed size, so that A4 and letter both do.
const std::string kCommon = R"css(
:root{color-scheme:light}
*,::before,::after{box-sizing:border-box}
html{font:112.5%/1.4 "Liberation Sans",Arial,Helvetica,"DejaVu Sans",sans-serif;color:#000;background:#fff}
body{margin:0 auto;padding:1rem;max-width:54rem;overflow-wrap:break-word}
.long{overflow-wrap:anywhere;word-break:break-word}
header{border-bottom:.45rem double #000;margin-bottom:1rem}
h1{font-size:2rem;line-height:1.15;margin:0 0 .4rem}
h2{font-size:1.4rem;line-height:1.2;margin:1.4rem 0 .5rem}
h3{font-size:1.15rem;line-height:1.25;margin:1rem 0 .3rem}
.about{margin:0;font-size:1.05rem}
p,ul,ol,dl,table,figure{margin:.5rem 0}
ul,ol{padding-left:1.4rem}
li{margin:.25rem 0}
a{color:#000}
a:focus-visible{outline:.2rem solid #000;outline-offset:.2rem}
.spoken{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.tick{display:inline-block;width:1.15em;height:1.15em;border:.12em solid #000;vertical-align:-.22em}
.mind{border:.4rem double #000;padding:.2rem .9rem;margin:1rem 0}
.mind h2{margin-top:.4rem}
.blank{display:flex;flex-wrap:wrap;gap:.3rem .6rem;margin:.9rem 0}
.blank::after{content:"";flex:1 1 9rem;min-height:1.6em;border-bottom:.1rem solid #000}
dl div{display:grid;grid-template-columns:minmax(6rem,11rem) 1fr;gap:0 1rem;padding:.2rem 0}
dt{font-weight:bold}
dd{margin:0;min-width:0}
table{border-collapse:collapse;width:100%}
caption{text-align:left;font-weight:bold;padding:.3rem 0}
th,td{border:1px solid #000;padding:.3rem .5rem;text-align:left;vertical-align:top}
thead th{border-bottom:.15rem solid #000}
.head{display:none}
.write td{height:2.6rem}
.two{columns:2 13rem}
.pair{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,17rem),1fr));gap:0 1.5rem}
.keep{white-space:nowrap}
figure svg{display:block;max-width:100%;height:auto}
.bars svg{width:100%;max-width:24rem}
footer{border-top:.15rem solid #000;margin-top:1.6rem;padding-top:.3rem;font-size:.9rem}
@media screen and (max-width:40rem){
dl div{grid-template-columns:1fr}
table,tbody{display:grid}
thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
tr{display:grid;border:1px solid #000;margin:.3rem 0}
th,td{border:0}
tbody th{border-bottom:1px solid #000}
tbody th,td{display:grid;grid-template-columns:7rem 1fr;gap:.6rem;width:auto!important}
th>span,td>span{min-width:0}
.head{display:block;font-weight:bold}
.write td{height:auto;min-height:2.6rem}
}
@page{margin:14mm 13mm 20mm;@bottom-left{font:9.5pt/1.25 "Liberation Sans",Arial,sans-serif;width:70%}@bottom-right{font:9.5pt/1.25 "Liberation Sans",Arial,sans-serif;width:30%}}
@media print{
html{font-size:12.5pt}
body{padding:0;max-width:none}
h1,h2,h3,caption{break-after:avoid}
tr,li,.mind,.blank,figure,dl div{break-inside:avoid}
thead{display:table-header-group}
p{orphans:3;widows:3}
.new-page{break-before:page}
.on-screen{display:none}
}
)css";

}  // namespace

const std::string& common_style() {
  return kCommon;
}

}  // namespace whichlink::sheets
