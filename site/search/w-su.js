bayleaf.words("su",{"supply":"0:0,g,s;2:0,m","support":"2:7"});
