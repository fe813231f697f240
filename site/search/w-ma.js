bayleaf.words("ma",{"make":"0:4,f","maker":"0:2;2:5,t","mandrel":"0:0,b","mark":"0:2,8,l;1:9,b;2:9,b,h;3:8,a,m","marked":"1:4","marks":"3:m","marlin":"0:0;1:0;2:0","mat":"0:0,5,o","match":"3:8"});
