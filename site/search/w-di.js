bayleaf.words("di",{"diagnostic":"2:t","difference":"1:8","digital":"0:0,1,f,s;2:0,m,t","discard":"3:k","disconnect":"0:3,4;1:2,5;2:2,3,6;3:2,6,c"});
