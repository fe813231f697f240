bayleaf.words("fl",{"flange":"0:0,b,c,d,f,h,i,q;1:0,a,b;2:0,4,b,c,d,e,f,g,m,q;3:0,a,b","flat":"0:b,m,o;2:j","flexible":"1:0,e","floor":"0:0,2,5,8,9,c,d,f,o;1:7","fluid":"3:0,1,c,f,k,l,m,o"});
