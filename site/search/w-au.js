bayleaf.words("au",{"audible":"1:l","automatic":"3:0","auxiliary":"3:0"});
