bayleaf.words("su",{"supply":"0:0,g,s;2:0,k,m","support":"2:7"});
