bayleaf.words("en",{"end":"0:g;1:0,4,h;3:d,k,n","ends":"2:9,a;3:c,k,m,n","engine":"0:s,t;3:k,l,m,n"});
