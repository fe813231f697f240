bayleaf.words("ne",{"neck":"2:0,f,g,o","needs":"0:j","negative":"0:0,3,f,i,p;1:0,2,j;2:0,2,r;3:0,2,j","never":"1:5","new":"2:j;3:i,k"});
