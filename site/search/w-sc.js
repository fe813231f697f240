bayleaf.words("sc",{"scale":"3:0,c","scrape":"0:f","screw":"0:0,6,b,e,h,i,n;1:0,c,d;2:0,3,6,k,n,o;3:0,4,7,g,n","screwdriver":"0:0;2:0;3:0","screws":"0:6,e,n;1:c,d;2:3,6,k,n,o;3:4,7,g,n"});
