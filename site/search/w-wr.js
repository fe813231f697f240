bayleaf.words("wr",{"wrench":"0:0;1:0,g;2:0;3:0","write":"0:t;1:1"});
