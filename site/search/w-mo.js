bayleaf.words("mo",{"module":"2:0,m,s,t","more":"3:n","most":"0:s;3:1","mount":"2:m","mounting":"1:8","move":"0:2,j;1:9;2:b;3:a","moves":"1:h;3:n"});
