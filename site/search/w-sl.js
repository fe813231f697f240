bayleaf.words("sl",{"slide":"1:1,5,6,g,h;2:b;3:4","sliding":"0:5","slots":"3:8","slowly":"3:c"});
