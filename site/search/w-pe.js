bayleaf.words("pe",{"peel":"3:h","pegs":"2:n","pencil":"1:9,a","person":"1:7,f;2:4,6,c,o,q,u;3:7,g"});
