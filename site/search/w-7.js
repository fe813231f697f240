bayleaf.words("7",{"7":"0:0,n;1:0,d;2:0;3:0,b,d,f"});
