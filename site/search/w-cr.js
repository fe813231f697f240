bayleaf.words("cr",{"crimp":"0:g","crimping":"0:0,g,h;2:0,k","cross":"0:f;2:l;3:0,8,9,a,b","crossbar":"2:0,c,e","crosses":"0:2","crosswise":"0:c;1:g;2:e,f;3:b","crowfoot":"3:0,b"});
